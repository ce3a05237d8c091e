namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>Which side of the equator and of Greenwich a number lies on. Places are of an atlas: Talca 35.4 S 71.7 W, Mahon 39.9 N 4.3 E,
/// Valladolid 41.7 N 4.7 W, Brest 48.4 N 4.5 W, Bordeaux 44.8 N 0.6 W, Lyon 45.8 N 4.8 E, Nairobi 1.3 S 36.8 E, Wellington 41.3 S 174.8
/// E.</summary>
public class SidesOfTheEarth
{
    private static Inquiry Ask(string? country, string language, string[] places, params (string Id, string Value)[] answers) =>
        Ask(country, language, "Lat;Long", places, answers);

    private static Inquiry Ask(string? country, string language, string head, string[] places, params (string Id, string Value)[] answers)
    {
        string file = Path.Combine(Directory.CreateTempSubdirectory("sides-").FullName, "table.csv");
        File.WriteAllText(file, $"Hole;Place;{head};Litter;Before (g);After (g);Buried;Dug up\n" + string.Concat(places.Select((place, i) =>
            FormattableString.Invariant($"{i + 1};Field {(char)('A' + i)};{place};fast;2.4{i};1.3{i};2025-05-14;2025-08-12\n")
            + FormattableString.Invariant($"{i + 1};Field {(char)('A' + i)};{place};slow;2.6{i};2.0{i};2025-05-14;2025-08-12\n"))));
        return AskedSheet.Of(file, language, answers,
            AskedSheet.Campaign with { Groups = [new CampaignGroup("hill-school") { CountryCode = country, Language = language }] });
    }

    [Fact]
    public void A_minus_before_the_longitude_says_nothing_of_the_latitude()
    {
        Inquiry chile = Ask("CL", "es", ["35.4;-71.7"]);
        Assert.Empty(chile.Ids());
        Assert.Contains("\"-35.4\"", chile.Mapping, StringComparison.Ordinal);
        Assert.Contains("half-by-country", chile.Told.Select(told => told.Code));
    }

    [Fact]
    public void Without_a_country_the_sea_decides_or_the_sender()
    {
        Inquiry atSea = Ask(null, "en", ["35.4;-71.7"]);
        Assert.Empty(atSea.Ids());
        Assert.Contains("half-by-land", atSea.Told.Select(told => told.Code));
        Assert.Contains("\"-35.4\"", atSea.Mapping, StringComparison.Ordinal);
        // both 35 N and 35 S of 140 E are land: Honshu and South Australia
        Assert.Equal(["half"], Ask(null, "en", ["35.4;139.5 E"]).Ids());
    }

    [Fact]
    public void One_minus_is_not_taken_for_the_places_without()
    {
        string[] spain = ["41.7;-4.7", "39.9;4.3"];
        Inquiry asked = Ask("ES", "es", spain);
        Question question = Assert.Single(asked.Questions);
        Assert.Equal(("half-mixed", null), (question.Id, question.Suggested));
        Assert.Contains(question.Choices, choice => choice.Text.Contains("39.9, 4.3", StringComparison.Ordinal));
        Assert.DoesNotContain("-4.3", Ask("ES", "es", spain, ("half-mixed", "NE")).Mapping!, StringComparison.Ordinal);
        Assert.Contains("\"-4.3\"", Ask("ES", "es", spain, ("half-mixed", "NW")).Mapping, StringComparison.Ordinal);
    }

    [Fact]
    public void A_place_that_lies_in_its_country_by_one_sign_alone_is_not_asked() =>
        // 45.8 N 4.8 W is in the Atlantic
        Assert.Empty(Ask("FR", "fr", ["48.4;-4.5", "45.8;4.8"]).Ids());

    [Fact]
    public void A_forgotten_minus_is_seen_by_the_country_of_the_others()
    {
        Assert.Equal(["half-mixed"], Ask(null, "en", ["41.7;-4.7", "41.9;4.5"]).Ids());
        Assert.Empty(Ask(null, "en", ["41.3 S;174.8 E", "1.3 S;36.8 E", "41.7 N;4.7 W"]).Ids());
    }

    [Fact]
    public void Places_may_be_said_to_lie_on_either_side()
    {
        string[] places = ["39.9;4.3", "41.6;0.6"];
        Question one = Assert.Single(Ask("ES", "es", places).Questions);
        Assert.Equal(("half", "each"), (one.Id, one.Choices[^1].Value));
        Assert.Equal(["half-of:Field A", "half-of:Field B"], Ask("ES", "es", places, ("half", "each")).Ids());
        Inquiry each = Ask("ES", "es", places, ("half", "each"), ("half-of:Field A", "NE"), ("half-of:Field B", "NW"));
        Assert.Empty(each.Ids());
        Assert.Contains("\"-0.6\"", each.Mapping, StringComparison.Ordinal);
        Assert.DoesNotContain("-4.3", each.Mapping, StringComparison.Ordinal);
    }

    [Fact]
    public void The_same_number_may_lie_on_both_sides()
    {
        // Manacor and La Mancha
        string[] places = ["39.6;3.2", "39.6;3.2"];
        Inquiry each = Ask("ES", "es", places, ("half", "each"), ("half-of:Field A", "NE"), ("half-of:Field B", "NW"));
        Assert.Contains("\"Field B\": \"-3.2\"", each.Mapping, StringComparison.Ordinal);
        Assert.Contains("\"Field A\": \"3.2\"", each.Mapping, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("fr", "FR", "W")]
    [InlineData("de", null, "E")]
    [InlineData("es", null, "W")]
    [InlineData("en", null, null)]
    public void A_typed_O_is_decided_by_country_or_asked_with_what_the_language_means(string language, string? country, string? east)
    {
        Inquiry typed = Ask(country, language, "Remarks;More", ["dry;", "wet;"], ("place:Field A", "48.4 N, 4.5 O"),
            ("place:Field B", "44.8 N, 0.6 O"));
        Question question = Assert.Single(typed.Questions);
        Assert.Equal(("o-half:typed", east is null ? null : "N" + east), (question.Id, question.Suggested));
    }

    [Fact]
    public void A_typed_O_where_the_country_reaches_to_one_side_only_is_told()
    {
        Inquiry typed = Ask("CL", "es", "Remarks;More", ["dry;", "wet;"], ("place:Field A", "35.4 S, 71.7 O"),
            ("place:Field B", "35.5 S, 71.8 O"));
        Assert.Empty(typed.Ids());
        Assert.Contains("o-by-country", typed.Told.Select(told => told.Code));
        Assert.Contains("\"-71.7\"", typed.Mapping, StringComparison.Ordinal);
    }

    [Fact]
    public void O_beside_W_is_east_and_beside_E_it_is_west()
    {
        Inquiry german = Ask(null, "de", ["48.4 N;4.5 W", "45.8 N;4.8 O"]);
        Assert.Empty(german.Ids());
        Assert.Contains("\"4.8 O\": \"4.8\"", german.Mapping, StringComparison.Ordinal);
        Inquiry french = Ask(null, "fr", ["45.8 N;4.8 E", "48.4 N;4.5 O"]);
        Assert.Contains("\"4.5 O\": \"-4.5\"", french.Mapping, StringComparison.Ordinal);
    }

    [Fact]
    public void A_minus_before_N_is_no_side() =>
        // 35.4 N 71.7 W is in the Atlantic
        Assert.Contains("half-by-land", Ask(null, "en", ["-35.4 N;71.7 W"]).Told.Select(told => told.Code));

    [Fact]
    public void The_country_says_what_o_is_beside_an_e()
    {
        // Munich 48.1 N 11.6 E; with O as west it would lie in the Atlantic
        Inquiry typed = Ask("DE", "de", "Remarks;More", ["dry;", "wet;"], ("place:Field A", "48.1 N, 11.6 E"),
            ("place:Field B", "48.2 N, 11.5 O"));
        Assert.Empty(typed.Ids());
        Assert.Contains("\"11.5\"", typed.Mapping, StringComparison.Ordinal);
        Assert.DoesNotContain("-11.5", typed.Mapping, StringComparison.Ordinal);
        Assert.DoesNotContain("o-by-letter", typed.Told.Select(told => told.Code));
        // Brest and Lyon: in France both sides are
        Assert.Contains("\"-4.5\"", Ask("FR", "fr", "Remarks;More", ["dry;", "wet;"], ("place:Field A", "45.8 N, 4.8 E"),
            ("place:Field B", "48.4 N, 4.5 O")).Mapping, StringComparison.Ordinal);
    }
}
