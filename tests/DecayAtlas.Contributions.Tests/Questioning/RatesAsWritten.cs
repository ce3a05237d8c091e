using System.Globalization;

namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>Sheets of k and S alone: how k is counted and whether S is in percent is read from names, unit rows and values, or asked. What
/// is right is worked by hand: 4.9 a year of 365.25 days is 0.0134155 a day.</summary>
public class RatesAsWritten
{
    private static string Sheet(string k, string kError, string s, string sError, string[] first, string? units = null) =>
        $"Site,Latitude,Longitude,Buried,Dug up,n,{k},{kError},{s},{sError}\n{(units is null ? "" : units + "\n")}"
        + $"Fen,53.4,9.1,2025-05-14,2025-08-12,5,{string.Join(',', first)}\n"
        + $"Moor,53.5,9.2,2025-05-14,2025-08-12,5,{string.Join(',', first)}\n";

    private static ResultRow First(string table, params (string, string)[] answers) =>
        AskedSheet.Tables(table, [("method", "two-litter"), .. answers]).Results[0];

    private static readonly string[] Yearly = ["4.9", "0.49", "0.2", "0.02"];

    [Theory]
    [InlineData("k (yr-1)", "4.9", 0.0134155)]
    [InlineData("k (10^-3 d-1)", "13.4", 0.0134)]
    [InlineData("k (10⁻³ d⁻¹)", "13.4", 0.0134)]
    [InlineData("k ×10⁻³ per day", "13.4", 0.0134)]
    [InlineData("k × 10³ (d⁻¹)", "13.4", 0.0134)]
    [InlineData("k [1e-3 d-1]", "13.4", 0.0134)]
    [InlineData("k x 1000 (1/Tag)", "13.4", 0.0134)]
    [InlineData("k × 1000 (d-1)", "13.4", 0.0134)]
    [InlineData("k*100 (per day)", "1.34", 0.0134)]
    [InlineData("k per 1000 days", "13.4", 0.0134)]
    [InlineData("k (pro 100 Tage)", "1.34", 0.0134)]
    [InlineData("k (% per day)", "1.34", 0.0134)]
    [InlineData("k (mg g-1 d-1)", "13.4", 0.0134)]
    [InlineData("k (semaine⁻¹)", "0.0938", 0.0134)]
    [InlineData("k (d-1)", "0.0134", 0.0134)]
    [InlineData("k", "0.0134", 0.0134)]
    public void K_is_read_per_day_with_its_error(string name, string written, double perDay)
    {
        double k = double.Parse(written, CultureInfo.InvariantCulture);
        string error = (k / 10).ToString(CultureInfo.InvariantCulture);
        ResultRow row = First(Sheet(name, "SE k", "S", "SE S", [written, error, "0.2", "0.02"]));
        Assert.Equal((perDay, perDay / 10), (row.RatePerDay!.Value, row.RateErrorPerDay!.Value), Within(1e-6));
        Assert.Equal((0.2, 0.02), (row.Stabilisation, row.StabilisationError));
    }

    [Theory]
    [InlineData("0.00273785", 0.0134155)]
    [InlineData("0.001", 0.0049)]
    public void K_that_can_be_no_rate_of_a_day_is_asked(string scale, double perDay)
    {
        string table = Sheet("k", "SE k", "S", "SE S", Yearly);
        Assert.Contains("rate-unit", AskedSheet.Ask(table, ("method", "two-litter")).Ids());
        Assert.Equal(perDay, First(table, ("rate-unit", scale)).RatePerDay!.Value, 1e-6);
    }

    [Fact]
    public void An_error_per_day_beside_k_per_year_is_asked()
    {
        string table = Sheet("k (yr-1)", "SE k", "S", "SE S", ["4.9", "0.0013", "0.2", "0.02"]);
        Assert.Equal(["error-unit:SE k"], AskedSheet.Ask(table, ("method", "two-litter")).Ids());
        Assert.Equal(0.0013, First(table, ("error-unit:SE k", "day")).RateErrorPerDay!.Value, 1e-9);
    }

    [Theory]
    [InlineData("S (%)", "SE S (%)", "20", "2")]
    [InlineData("S (%)", "SE S", "20", "2")]
    [InlineData("S", "SE S (%)", "0.2", "2")]
    [InlineData("S", "SE S", "20", "2")]
    public void S_in_percent_is_a_share(string s, string error, string mean, string spread)
    {
        ResultRow row = First(Sheet("k (d-1)", "SE k", s, error, ["0.0134", "0.00134", mean, spread]));
        Assert.Equal((0.2, 0.02), (row.Stabilisation!.Value, row.StabilisationError!.Value), Within(1e-9));
    }

    [Theory]
    [InlineData("S (%)", "SE S", "20", "0.02")]
    [InlineData("S", "SE S", "0.2", "2")]
    public void An_error_of_S_that_fits_the_other_way_only_is_asked(string s, string error, string mean, string spread) =>
        Assert.Equal(["share-unit:SE S"], AskedSheet.Ask(Sheet("k (d-1)", "SE k", s, error, ["0.0134", "0.00134", mean, spread]),
            ("method", "two-litter")).Ids());

    [Theory]
    [InlineData(",°N,°W,,,,yr-1,,%,")]
    [InlineData(",N,Oeste,,,,yr-1,yr-1,%,%")]
    [InlineData(",Nord,Ouest,,,,a⁻¹,,%,")]
    public void A_row_of_units_is_none_of_data_and_says_the_sides_of_the_Earth(string units)
    {
        ContributionTables read = AskedSheet.Tables(Sheet("k", "SE k", "S", "SE S", ["4.9", "0.49", "20", "2"], units),
            ("method", "two-litter"));
        Assert.Equal((53.4, -9.1), (read.Sites[0].DecimalLatitude, read.Sites[0].DecimalLongitude));
        Assert.Equal((0.0134155, 0.2), (read.Results[0].RatePerDay!.Value, read.Results[0].Stabilisation!.Value), Within(1e-6));
    }

    // what can be no rate is seen before it is called well
    [Fact]
    public void A_rate_that_was_sent_is_held_beside_what_is_usual()
    {
        ContributionTables read = AskedSheet.Tables(Sheet("k (d-1)", "SE k", "S", "SE S", Yearly), ("method", "two-litter"));
        PlausibilityLine rate = Plausibility.Of(read, [], new DateOnly(2026, 1, 1)).Single(line => line.Code == "rate");
        Assert.Equal((2, 2), (rate.Of, rate.Outside.Count));
    }

    private static EqualityComparer<(double, double)> Within(double off) => EqualityComparer<(double, double)>.Create((one, other) =>
        Math.Abs(one.Item1 - other.Item1) <= off && Math.Abs(one.Item2 - other.Item2) <= off);
}
