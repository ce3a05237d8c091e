using System.Globalization;

namespace DecayAtlas.Questions.Tests.Released;

/// <summary>False findings of releases in which no groups differ.</summary>
public class FamilyOfComparisons
{
    private static int Releases =>
        int.Parse(Environment.GetEnvironmentVariable("DECAYATLAS_RELEASES") ?? "24", CultureInfo.InvariantCulture);

    private static GroupAnswer Question(string by, params double[] probabilities) => new("k", 9, 3, [], null, [],
        [.. probabilities.Zip(MultipleComparisons.Holm(probabilities)).Select((p, i) =>
            new GroupPair("a", $"b{i}", 1.2, 1, 2, 9, p.Second, 0, null, null, $"P {p.Second}.") { PValue = p.First })], [], [])
    {
        By = by,
    };

    [Fact]
    public void A_pair_is_told_apart_where_it_stands_among_all_pairs_and_says_so_where_it_does_not()
    {
        GroupAnswer[] asked = [Question("ecosystem", 0.02, 0.7), Question("management", 0.004, 0.3, 0.5)];
        FamilyOfPairs family = FamilyOfPairs.Of(asked);
        GroupAnswer[] marked = [.. asked.Select(family.Mark)];
        // R 4.2: p.adjust(c(.02, .7, .004, .3, .5), "holm") gives 0.08, 1, 0.02, 0.9, 1
        double[] expected = [0.08, 1, 0.02, 0.9, 1];
        Assert.Equal(expected, marked.SelectMany(a => a.Pairs).Select(p => Math.Round(p.FamilyPValue!.Value, 12)));
        Assert.Equal((true, false), (asked[0].Pairs[0].IsToldApart, marked[0].Pairs[0].IsToldApart));
        Assert.True(marked[1].Pairs[0].IsToldApart);
        Assert.Equal("P 0.04. Among all 5 pairs that the release compares it does not stand (P = 0.080).", marked[0].Pairs[0].Sentence);
        Assert.All(marked[1].Pairs, p => Assert.DoesNotContain("Among all", p.Sentence, StringComparison.Ordinal));
        // the same groups under another adjustment are another question
        Assert.All(family.Mark(Question("ecosystem", 0.01, 0.7)).Pairs, p => Assert.Null(p.FamilyPValue));
    }

    [Fact]
    public void The_pairs_of_a_release_are_told_as_its_table_has_them()
    {
        InventedRelease release = new(3, 24, spread: 0.4);
        IReadOnlyList<ReleasedComparison> rows = ReleaseAnswers.Of(release, EvidenceChoice.Usual).Comparisons;
        ReleasedRates rates = new(release);
        FamilyOfPairs family = FamilyOfPairs.Of(rows, NotedUse.All);
        foreach (AskedOf of in Enum.GetValues<AskedOf>())
        {
            GroupAnswer asked = family.Mark(GroupQuestion.Ask(rates, "ecosystem", [], of));
            Dictionary<(string, string), ReleasedComparison> own = rows.Where(r => r.Of == of.Code() && r.By == "ecosystem")
                .ToDictionary(r => (r.First!, r.Second!));
            Assert.All(asked.Pairs, p => Assert.Equal(
                (own[(p.First, p.Second)].FamilyPValue, own[(p.First, p.Second)].Sentence, own[(p.First, p.Second)].IsToldApart),
                (p.FamilyPValue, p.Sentence, p.IsToldApart)));
        }

        Assert.Equal(family.Size, rows.Select(r => r.FamilySize).Max());
    }

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
