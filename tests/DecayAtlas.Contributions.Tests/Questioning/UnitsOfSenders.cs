using System.Globalization;

namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>Ounces, inches, sides of the Earth in a row of their own, and numbers in sentences. The avoirdupois ounce is 28.349523125 g
/// (NIST Handbook 44, appendix C), the inch 2.54 cm (NIST SP 811, B.8).</summary>
public class UnitsOfSenders
{
    private const double GramsPerOunce = 28.349523125;

    private static string Ounces(double grams) => (grams / GramsPerOunce).ToString("0.0000", CultureInfo.InvariantCulture);

    private static string Table(string unit, Func<double, string> written, string depth = "Depth (in)") =>
        $"Hole,Lat,Long,Litter,{depth},Before ({unit}),After ({unit}),Buried,Dug up\n" + string.Concat(Enumerable.Range(1, 4)
            .Select(hole => $"{hole},48.1,9.2,fast,4,{written(2.4 + hole / 100.0)},{written(1.3)},2025-05-14,2025-08-12\n"
                + $"{hole},48.1,9.2,slow,4,{written(2.6 + hole / 100.0)},{written(2.0)},2025-05-14,2025-08-12\n"));

    // four decimals of an ounce are 3 mg
    [Theory]
    [InlineData("oz")]
    [InlineData("ounces")]
    [InlineData("onzas")]
    [InlineData("Unzen")]
    [InlineData("onces")]
    public void Ounces_become_grams(string unit)
    {
        IReadOnlyList<BagRow> bags = AskedSheet.Read(Table(unit, Ounces));
        Assert.All(bags, bag => Assert.Equal(bag.LotId == "F" ? 1.3 : 2.0, bag.MassFinalGrams!.Value, 0.0015));
    }

    [Theory]
    [InlineData("Depth (in)")]
    [InlineData("Tiefe (Zoll)")]
    [InlineData("Profundidad (pulgadas)")]
    [InlineData("Profondeur (pouces)")]
    public void Inches_become_centimetres_and_are_no_mass(string depth)
    {
        IReadOnlyList<BagRow> bags = AskedSheet.Read(Table("g", grams => grams.ToString("0.00", CultureInfo.InvariantCulture), depth));
        Assert.All(bags, bag => Assert.Equal(10.16, bag.DepthCentimetres!.Value, 1e-9));
    }

    private static readonly Campaign Anywhere = AskedSheet.Campaign with { Groups = [] };

    private static string Places(string latitude, string longitude) => "Hole,Latitude,Longitude,Litter,Before (g),After (g),Buried,Dug up\n"
        + string.Concat(Enumerable.Range(1, 3).Select(hole =>
            $"{hole},{latitude},{longitude},fast,2.4{hole},1.3{hole},2025-05-14,2025-08-12\n"
            + $"{hole},{latitude},{longitude},slow,2.6{hole},2.0{hole},2025-05-14,2025-08-12\n"));

    // a minus in one half says that the other has none by intent
    [Theory]
    [InlineData("53.412", "-7.901", false)]
    [InlineData("-33.41", "70.61", false)]
    [InlineData("53.412", "7.901", true)]
    public void The_sides_are_asked_only_where_no_minus_stands(string latitude, string longitude, bool isAsked) =>
        Assert.Equal(isAsked, AskedSheet.Ask(Places(latitude, longitude), Anywhere, [("contributor", "x")]).Ids().Contains("half"));

    // in no country of the group whichever sign it has, and in it with the other sign alone: of Uruguay 33.4 S 55.9 W is, 33.4 N is not
    [Theory]
    [InlineData("DE", false)]
    [InlineData("UY", true)]
    public void A_country_that_only_the_other_side_lies_in_goes_before_a_minus(string country, bool isAskedOrTold)
    {
        Inquiry inquiry = AskedSheet.Ask(Places("33.41", "-55.9"), AskedSheet.Campaign with
        {
            Groups = [new CampaignGroup("g") { CountryCode = country }],
        }, []);
        Assert.Equal(isAskedOrTold, inquiry.Ids().Contains("half") || AskedSheet.Told(inquiry).Contains("half-by-country"));
    }

    [Fact]
    public void What_cannot_be_used_without_its_ash_is_asked_before_all_else()
    {
        string table = "Pair,Latitude,Longitude,Deployed,Retrieved,Fast initial DM (g),Fast final AFDM (g),Slow initial DM (g),"
            + "Slow final AFDM (g)\n1,53.412,7.901,12/05/2025,11/08/2025,2.48,1.01,3.52,2.64\n2,53.412,7.901,12/05/2025,11/08/2025,2.55,0.96,"
            + "3.41,2.42\n";
        Assert.Equal(["ash-free"], AskedSheet.Ask(table, Anywhere, []).Ids());
        Finding refused = Assert.Single(AskedSheet.Ask(table, Anywhere, [("ash-free", "yes")]).Findings);
        Assert.Contains("without their ash", refused.Found, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("de", "2,43")]
    [InlineData("fr", "2,43")]
    [InlineData("es", "2,43")]
    [InlineData("en", "2.43")]
    public void Numbers_in_sentences_have_the_sign_of_their_language(string language, string mean)
    {
        List<object?[]> rows = [["Nr", "Breite N", "Länge E", "Fast before (g)", "Fast after (g)", "Slow before (g)", "Slow after (g)"]];
        for (int hole = 1; hole <= 4; hole++)
            rows.Add([(double)hole, 48.1, 9.2, 2.4 + hole * 0.012, 1.3 + hole * 0.01, 2.6 + hole * 0.01, 2 + hole * 0.01]);
        rows.Add([null, null, null, 2.43, 1.325, 2.625, 2.025]);
        Inquiry inquiry = AskedSheet.Of(new XlsxMaker().Sheet("a", [.. rows]).ToBytes(), language);
        Assert.Contains($"({mean})", inquiry.Told.Single(told => told.Code == "layout-aggregate-rows").Text, StringComparison.Ordinal);
    }
}
