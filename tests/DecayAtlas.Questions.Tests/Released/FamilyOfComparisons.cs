using System.Globalization;

namespace DecayAtlas.Questions.Tests.Released;

/// <summary>False findings of releases in which no groups differ.</summary>
public class FamilyOfComparisons
{
    private static int Releases =>
        int.Parse(Environment.GetEnvironmentVariable("DECAYATLAS_RELEASES") ?? "24", CultureInfo.InvariantCulture);

    [Fact]
    public void Of_releases_without_a_difference_at_most_one_in_twenty_finds_any_after_correction_for_all()
    {
        (int Made, int Standing, int Alone)[] counts = new (int, int, int)[Releases];
        Parallel.For(0, counts.Length, seed =>
        {
            ReleaseAnswers answers = ReleaseAnswers.Of(new InventedRelease(seed, 24, spread: 0), EvidenceChoice.Usual);
            (int made, int standing) = ReleasedComparison.CountOf(answers.Comparisons);
            counts[seed] = (made, standing, answers.Comparisons.Count(c => c.PValue < 0.05));
        });
        int any = counts.Count(c => c.Standing > 0), uncorrected = counts.Count(c => c.Alone > 0);
        TestContext.Current.SendDiagnosticMessage($"{any} of {Releases} with a finding, {uncorrected} before correction");
        Assert.All(counts, c => Assert.True(c.Made > 20, $"{c.Made} comparisons"));
        // 5 %, and three binomial standard errors of it
        Assert.True(any <= 0.05 * Releases + 3 * Math.Sqrt(0.05 * 0.95 * Releases), $"{any} of {Releases}");
        // what the correction is for: without it most releases would find something
        Assert.True(uncorrected > Releases / 4, $"{uncorrected} of {Releases}");
    }
}
