using System.Globalization;

namespace DecayAtlas.Questions.Tests.Released;

/// <summary>Site values of a small unbalanced release held against lme4 1.1 and metafor (data/site-values.R).</summary>
public class SiteValuesBesideR
{
    private sealed class Tables(bool isKnown) : IReleasedRows
    {
        private readonly string[][] _burials = [.. Read("site-values-data.csv")];

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
                    Ecosystem = b[1],
                })),
                "plots" => Of<TRow, ReleasedPlot>(_burials.GroupBy(b => (b[0], b[2])).SelectMany(g => ReleasedPlot.Of(
                    g.Select((b, i) => new PlotBurial(b[0], b[2], null, null, $"{i}", b[3], Number(b[6]), null, null)),
                    _ => isKnown ? new KnownErrors(Number(g.First()[5]) * Number(g.First()[5]), 0, 0, []) : null))),
                "shared_errors" when isKnown => Of<TRow, ReleasedSharedError>(_burials.DistinctBy(b => (b[0], b[2])).Select(b =>
                    new ReleasedSharedError
                    {
                        SiteKey = b[0],
                        Campaign = b[2],
                        Evidence = "weighed",
                        ErrorSet = b[3],
                        SharedBy = "lot",
                        SharedId = b[3],
                        Quantity = "hydrolysable",
                        OnLnRate = Number(b[4]),
                        OnStabilisation = 0,
                    })),
                _ => [],
            };

        private static IReadOnlyList<TRow> Of<TRow, TOwn>(IEnumerable<TOwn> rows) => [.. rows.Cast<TRow>()];
    }

    [Theory]
    [InlineData(false, 2)]
    [InlineData(true, 3)]
    public void Values_are_those_of_R(bool isKnown, int column)
    {
        SiteValues values = SiteValueQuestion.Ask(new ReleasedRates(new Tables(isKnown)), AskedOf.Rate);
        Assert.Null(values.Statement);
        Dictionary<(string, string), string[]> reference = Read("site-values-reference.csv").ToDictionary(r => (r[0], r[1]));
        Assert.Equal(reference.Count, values.Values.Count);
        foreach (SiteValue v in values.Values)
        {
            string[] expected = reference[(v.Row.SiteKey, v.Row.Campaign)];
            Assert.Equal(Number(expected[column]), v.Value.Value, 1e-4);
            // R's prediction error variance takes the variances as known; ours adds what they are uncertain by
            double known = Math.Sqrt(Number(expected[4]));
            if (isKnown)
                Assert.InRange(v.Value.StandardError, known * 0.9999, known * 1.5);
        }
    }

    private static IEnumerable<string[]> Read(string file) =>
        File.ReadLines(Path.Combine(AppContext.BaseDirectory, "Released", "data", file)).Skip(1).Select(line => line.Split(','));

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
