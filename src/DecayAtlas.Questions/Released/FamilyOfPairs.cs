namespace DecayAtlas.Questions.Released;

/// <summary>The pairs of groups that a release compares, of every grouping and of k and S: among so many some differ by chance, so that a
/// pair is told apart only where it stands among all of them.</summary>
public sealed class FamilyOfPairs
{
    /// <summary>What differs by less is the same question asked again.</summary>
    private const double AskedAgain = 1e-6;

    private readonly Dictionary<(string Of, string By, string First, string Second), (double? Alone, double? Among)> _pairs;

    private FamilyOfPairs(IEnumerable<((string, string, string, string) Pair, double? Alone, double? Among)> pairs) =>
        _pairs = pairs.ToDictionary(p => p.Pair, p => (p.Alone, p.Among));

    public int Size => _pairs.Count;

    /// <summary>Corrected by Holm; a pair without a probability counts as compared too.</summary>
    public static FamilyOfPairs Of(IEnumerable<GroupAnswer> answers)
    {
        ((string, string, string, string) Pair, double? Alone)[] pairs =
            [.. answers.SelectMany(a => a.Pairs.Select(p => (KeyOf(a, p), p.PValue)))];
        double[] holm = MultipleComparisons.Holm([.. pairs.Select(p => p.Alone ?? 1)]);
        return new(pairs.Select((p, i) => (p.Pair, p.Alone, p.Alone is null ? (double?)null : holm[i])));
    }

    /// <summary>As a release carries it.</summary>
    /// <param name="records">With the noted records or without (<see cref="NotedUse"/>).</param>
    public static FamilyOfPairs Of(IEnumerable<ReleasedComparison> rows, string records) => new(
        rows.Where(r => r.Records == records && r.Contrast is not null)
            .Select(r => ((r.Of, r.By, r.First!, r.Second!), r.PValue, r.FamilyPValue)));

    /// <summary>An answer whose pairs are told apart where they stand in the family; as it is where the release asked another
    /// question.</summary>
    public GroupAnswer Mark(GroupAnswer answer)
    {
        (double? Alone, double? Among)[] found = [.. answer.Pairs.Select(p => _pairs.GetValueOrDefault(KeyOf(answer, p)))];
        bool isOfRelease = answer.Pairs.Zip(found).All(x => x.First.PValue is { } own
            ? x.Second.Alone is { } released && Math.Abs(own - released) <= AskedAgain * released : x.Second.Among is null);
        return !isOfRelease ? answer : answer with { Pairs = [.. answer.Pairs.Zip(found, (p, f) => Marked(p, f.Among))] };
    }

    public static WithAndWithoutNoted<GroupAnswer> Mark(WithAndWithoutNoted<GroupAnswer> both, FamilyOfPairs all, FamilyOfPairs without) =>
        both.Retold(all.Mark, without.Mark, AnswerChanges.Of);

    private GroupPair Marked(GroupPair pair, double? among) => pair with
    {
        FamilyPValue = among,
        Sentence = among is { } p && pair.IsToldApart && !MultipleComparisons.IsTold(p)
            ? $"{pair.Sentence} Among all {Size} pairs that the release compares it does not stand (P {GroupQuestion.Probability(p)})."
            : pair.Sentence,
    };

    private static (string, string, string, string) KeyOf(GroupAnswer answer, GroupPair pair) =>
        (answer.Of, answer.By, pair.First, pair.Second);
}
