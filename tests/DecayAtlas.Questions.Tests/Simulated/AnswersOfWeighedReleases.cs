using System.Collections.Concurrent;
using System.Globalization;

namespace DecayAtlas.Questions.Tests.Simulated;

/// <summary>How often the answers of whole releases hold the truth, from grams on. The usual run is of few and small releases, to be
/// short; what long runs of full ones gave stands in docs/method.md, sections 11 and 14.</summary>
public class AnswersOfWeighedReleases
{
    private static readonly int? Asked = int.TryParse(
        Environment.GetEnvironmentVariable("DECAYATLAS_CAMPAIGNS"), CultureInfo.InvariantCulture, out int asked) ? asked : null;

    [Fact]
    public void Differences_of_groups_and_site_values_hold_the_truth_as_often_as_they_say() =>
        Hold(WeighedDesign.OfGroups, WeighedAnswers.OfGroups, 10);

    [Fact]
    public void Shares_of_variance_hold_the_truth_as_often_as_they_say() => Hold(WeighedDesign.OfGroups, WeighedAnswers.OfShares, 6);

    [Fact]
    public void Slopes_of_warmth_of_a_quantity_and_of_time_hold_the_truth_as_often_as_they_say() =>
        Hold(WeighedDesign.OfSlopes, WeighedAnswers.OfSlopes, 6);

    [Fact]
    public void Of_releases_in_which_no_groups_differ_at_most_one_in_twenty_finds_any()
    {
        ConcurrentBag<double> least = new();
        int releases = Asked ?? 6;
        WeighedDesign design = SizeOf(WeighedDesign.OfNothing);
        Parallel.For(0, releases, seed =>
        {
            double[] pairs = WeighedAnswers.OfPairs(new WeighedRelease(design, seed));
            Assert.True(pairs.Length > 10, $"{pairs.Length} pairs");
            // Holm's correction finds something where the least of them, times their number, is below 0.05
            least.Add(pairs.Min() * pairs.Length);
        });
        int any = least.Count(p => p < 0.05);
        TestContext.Current.TestOutputHelper!.WriteLine($"{any} of {releases} with a finding");
        Assert.True(any <= 0.05 * releases + 3 * Math.Sqrt(0.05 * 0.95 * releases), $"{any} of {releases}");
    }

    private static WeighedDesign SizeOf(WeighedDesign design) => Asked is null ? design with { Contributors = 4 } : design;

    private static void Hold(
        WeighedDesign full, Func<WeighedDesign, WeighedRelease, IEnumerable<WeighedAnswer>> ask, int usual)
    {
        WeighedDesign design = SizeOf(full);
        ConcurrentBag<(string What, WeighedAnswer[] Answers)> all = new();
        Parallel.For(0, Asked ?? usual, seed =>
        {
            foreach (IGrouping<string, WeighedAnswer> g in ask(design, new WeighedRelease(design, seed)).GroupBy(f => f.What))
                all.Add((g.Key, [.. g]));
        });
        List<string> outside = new();
        foreach (IGrouping<string, (string What, WeighedAnswer[] Answers)> g in all.GroupBy(f => f.What)
            .OrderBy(g => g.Key, StringComparer.Ordinal))
        {
            WeighedAnswer[] given = [.. g.SelectMany(f => f.Answers).Where(a => a.IsGiven)];
            int releases = g.Count(f => f.Answers[0].IsGiven);
            double held = given.Average(f => f.Holds ? 1.0 : 0), off = given.Average(f => f.Value - f.Truth);
            double half = given.Average(f => f.Upper95 - f.Lower95) / 2,
                errors = Math.Sqrt(given.Average(f => Math.Pow(f.Value - f.Truth, 2)));
            string line = string.Create(CultureInfo.InvariantCulture,
                $"{g.Key}: {held:0.0000} of {given.Length} in {releases} releases of {g.Count()}, off by {off:0.0000} on average, ")
                + string.Create(CultureInfo.InvariantCulture, $"by {errors:0.0000} as root mean square, half of the interval ")
                + string.Create(CultureInfo.InvariantCulture, $"{half:0.0000}");
            TestContext.Current.TestOutputHelper!.WriteLine(line);
            // 93 to 97 % as the number of releases grows, and three standard errors of that number; more than they say is no harm where
            // degrees of freedom are bounded
            double slack = 0.02 + 3 * Math.Sqrt(0.95 * 0.05 / releases);
            if (held < 0.95 - slack || (held > 0.95 + slack && !g.Key.StartsWith("year", StringComparison.Ordinal)))
                outside.Add(line);
        }

        Assert.Empty(outside);
    }
}
