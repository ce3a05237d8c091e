using System.Globalization;

namespace DecayAtlas.Questions.Tests.Slopes;

/// <summary>The small release of data/slopes.R: six campaigns, sites that join and leave, no known errors.</summary>
/// <param name="of">What the numbers of the file are taken as.</param>
/// <param name="isKept">Which rows of the file are taken, by site and campaign.</param>
internal sealed class ReleaseOfSixCampaigns(AskedOf of = AskedOf.Rate, Func<string, string, bool>? isKept = null) : IReleasedRows
{
    private readonly string[][] _burials = [.. Read("slopes-data.csv").Where(b => isKept?.Invoke(b[0], b[1]) != false)];

    /// <summary>slope, standard error and Satterthwaite's degrees of freedom by lmerTest.</summary>
    public static (double Slope, double Error, double DegreesOfFreedom) Reference(string what)
    {
        string[] row = Read("slopes-reference.csv").Single(r => r[0] == what);
        return (Number(row[1]), Number(row[2]), Number(row[3]));
    }

    public IReadOnlyList<TRow> Rows<TRow>(Table<TRow> table)
        where TRow : class => table.Name switch
        {
            "sites" => Of<TRow, ReleasedSite>(_burials.DistinctBy(b => b[0]).Select(b => new ReleasedSite
            {
                SiteKey = b[0],
                ContributorId = "g",
                ContributionId = "g-1",
                IsGeneralised = false,
                Use = "accepted",
            })),
            "covariates" => Of<TRow, ReleasedCovariate>(_burials.DistinctBy(b => b[0]).Select(b => new ReleasedCovariate
            {
                SiteKey = b[0],
                Covariate = "clay",
                Value = Number(b[4]),
            })),
            "plots" => Of<TRow, ReleasedPlot>(_burials.GroupBy(b => (b[0], b[1])).SelectMany(g => ReleasedPlot.Of(
                g.Select((b, i) => new PlotBurial(
                    b[0], b[1], null, null, $"{i}", "", of == AskedOf.Rate ? Number(b[6]) : null, null,
                    of == AskedOf.Rate ? null : Number(b[6]))), _ => null))),
            "site_campaigns" => Of<TRow, ReleasedSiteCampaign>(_burials.DistinctBy(b => (b[0], b[1])).Select(b => new ReleasedSiteCampaign
            {
                SiteKey = b[0],
                Campaign = b[1],
                Burials = 1,
                FirstBuriedOn = DateOnly.ParseExact(b[2], "O", CultureInfo.InvariantCulture),
                LastRetrievedOn = DateOnly.ParseExact(b[3], "O", CultureInfo.InvariantCulture),
                RateBurials = 1,
                RateNotPositiveBurials = 0,
                RateAtLeastBurials = 0,
                LnRateBurials = 1,
                StabilisationBurials = 1,
            })),
            // two samples of each site and campaign, whose mean is the number of the file
            "samples" => Of<TRow, ReleasedSample>(_burials.DistinctBy(b => (b[0], b[1])).SelectMany(b => new[] { -5, 5 }.Select(off =>
                new ReleasedSample
                {
                    ContributionId = "g-1",
                    SampleId = $"{b[0]} {b[1]} {off}",
                    BagId = "b",
                    BurialId = "b",
                    SiteKey = b[0],
                    Campaign = b[1],
                    Role = "slow",
                    Use = "accepted",
                    TargetGene = "16S rRNA",
                    Richness = Number(b[5]) + off,
                }))),
            _ => [],
        };

    private static IReadOnlyList<TRow> Of<TRow, TOwn>(IEnumerable<TOwn> rows) => [.. rows.Cast<TRow>()];

    private static IEnumerable<string[]> Read(string file) =>
        File.ReadLines(Path.Combine(AppContext.BaseDirectory, "Slopes", "data", file)).Skip(1).Select(line => line.Split(','));

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
