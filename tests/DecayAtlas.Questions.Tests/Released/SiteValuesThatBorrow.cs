using System.Globalization;

namespace DecayAtlas.Questions.Tests.Released;

/// <summary>Values of sites that lean on other sites.</summary>
public class SiteValuesThatBorrow
{
    private static int Campaigns =>
        int.Parse(Environment.GetEnvironmentVariable("DECAYATLAS_CAMPAIGNS") ?? "40", CultureInfo.InvariantCulture);

    private sealed record Found(AskedOf Of, int Burials, bool Holds, double OffOwn, double OffBorrowed, double Half, double HalfOwn);

    [Fact]
    public void Intervals_hold_the_truth_as_often_as_they_say_and_sites_of_two_burials_come_nearer_to_it()
    {
        Found[][] campaigns = new Found[Campaigns][];
        Parallel.For(0, campaigns.Length, seed => campaigns[seed] = [.. Enum.GetValues<AskedOf>().SelectMany(of => Of(seed, of))]);
        foreach (IGrouping<AskedOf, Found> g in campaigns.SelectMany(c => c).GroupBy(f => f.Of))
        {
            Found[] two = [.. g.Where(f => f.Burials == 2)];
            double held = g.Average(f => f.Holds ? 1.0 : 0), ofTwo = two.Average(f => f.Holds ? 1.0 : 0);
            (double own, double borrowed) = (Rms(two, f => f.OffOwn), Rms(two, f => f.OffBorrowed));
            TestContext.Current.SendDiagnosticMessage(string.Create(CultureInfo.InvariantCulture,
                $"{g.Key}: held {held:0.0000} of {g.Count()}, of two burials {ofTwo:0.0000} of {two.Length}; rmse {own:0.0000} alone, {borrowed:0.0000} with others; half-width {two.Average(f => f.HalfOwn):0.000} alone at least, {two.Average(f => f.Half):0.000} with others"));
            // 93 to 97 % as the number of campaigns grows, and three standard errors of that number
            double slack = 0.02 + 3 * Math.Sqrt(0.95 * 0.05 / campaigns.Length);
            Assert.True(Math.Abs(held - 0.95) < slack && Math.Abs(ofTwo - 0.95) < slack, $"{g.Key}: {held}, of two burials {ofTwo}");
            Assert.True(borrowed < 0.95 * own, $"{g.Key}: {borrowed} with others, {own} alone");
        }
    }

    private static IEnumerable<Found> Of(int seed, AskedOf of)
    {
        InventedRelease release = new(seed);
        SiteValues values = SiteValueQuestion.Ask(new ReleasedRates(release), of);
        Assert.Null(values.Statement);
        Assert.Equal(release.Truth.Count, values.Values.Count);
        double scale = of == AskedOf.Rate ? 1 : 0.2;
        foreach (SiteValue v in values.Values)
        {
            (double lnRate, double s) = release.Truth[(v.Row.SiteKey, v.Row.Campaign, v.Row.Treatment)];
            double truth = of == AskedOf.Rate ? lnRate : s;
            // the narrowest interval that its own burials can have: their scatter and errors taken as known
            double own = 1.96 * scale * Math.Sqrt(
                (Square(InventedRelease.BurialSd) + Square(InventedRelease.BagSd)) / v.Value.Burials + Square(InventedRelease.LotSd));
            yield return new(of, v.Value.Burials, v.Value.Lower95 <= truth && truth <= v.Value.Upper95, v.Value.RawMean!.Value - truth,
                v.Value.Value - truth, (v.Value.Upper95 - v.Value.Lower95) / 2, own);
        }
    }

    [Fact]
    public void Where_each_site_has_one_burial_a_sentence_stands_in_place_of_numbers()
    {
        ReleasedPlot[] single = [.. new InventedRelease(1).Rows(AtlasTables.Plots).DistinctBy(p => p.SiteKey).Select(p => p with
        {
            LnRateBurials = 1, LnRateSd = null, StabilisationBurials = 1, StabilisationSd = null, LnRateStabilisationCovariance = null,
        })];
        SiteValues none = SiteValueQuestion.Ask(new ReleasedRates(new InventedRelease(1)).With(single), AskedOf.Rate);
        Assert.Empty(none.Values);
        Assert.Contains("holds one burial only", none.Statement, StringComparison.Ordinal);
        ReleasedSiteValue row = Assert.Single(SiteValueQuestion.RowsOf(none));
        Assert.Equal(("not-computed", (string?)null, single.Length), (row.Status, row.SiteKey, row.Burials));
    }

    private static double Rms(Found[] found, Func<Found, double> off) => Math.Sqrt(found.Average(f => Square(off(f))));

    private static double Square(double x) => x * x;
}
