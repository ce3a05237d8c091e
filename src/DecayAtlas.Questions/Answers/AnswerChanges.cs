namespace DecayAtlas.Questions.Answers;

/// <summary>What is another between an answer with the noted records and the same answer without.</summary>
public static class AnswerChanges
{
    internal const string NoneChanges = "no conclusion changes.";

    /// <summary>More pairs than this are counted and not named.</summary>
    private const int MostNamed = 4;

    public static AnswerChange Of(GroupAnswer all, GroupAnswer without)
    {
        if (OfStatements(all.Statement, without.Statement) is { } told)
            return told;
        HashSet<(string First, string Second)> before = [.. Told(all)], after = [.. Told(without)];
        string sign = all.Of == AskedOf.Rate.Code() ? "/" : "-";
        string[] gone = [.. before.Except(after).Order().Select(Named)], come = [.. after.Except(before).Order().Select(Named)];
        if (gone.Length + come.Length > MostNamed)
        {
            return new(true, $"{Counted.Of(gone.Length, "pair")} {(gone.Length == 1 ? "is" : "are")} no longer told apart so, "
                + $"{come.Length} {(come.Length == 1 ? "other is" : "others are")}.");
        }

        if (gone.Length + come.Length > 0)
        {
            return new(true, string.Join("; ",
                [.. gone.Select(p => $"{p} is no longer told apart so"), .. come.Select(p => $"{p} is told apart")]) + ".");
        }

        // the pair that was second / first may now be first / second
        Dictionary<(string, string), double> now = without.Pairs
            .SelectMany(p => new[] { ((p.First, p.Second), Scale(p.Contrast)), ((p.Second, p.First), -Scale(p.Contrast)) })
            .ToDictionary(p => p.Item1, p => p.Item2);
        double moved = all.Pairs.Where(p => now.ContainsKey((p.First, p.Second)))
            .Select(p => Math.Abs(now[(p.First, p.Second)] - Scale(p.Contrast))).DefaultIfEmpty(0).Max();
        return new(false, all.Of == AskedOf.Rate.Code()
            ? $"no conclusion changes; ratios of k move by a factor of {Two(Math.Exp(moved))} at most."
            : Invariant($"no conclusion changes; differences of S move by {moved:0.000} at most."));

        string Named((string First, string Second) pair) =>
            $"{GroupQuestion.NameOf(all.By, pair.Second)} {sign} {GroupQuestion.NameOf(all.By, pair.First)}";

        double Scale(double contrast) => all.Of == AskedOf.Rate.Code() ? Math.Log(contrast) : contrast;

        // in order of the means, so that another order is another pair
        static IEnumerable<(string, string)> Told(GroupAnswer answer) =>
            answer.Pairs.Where(p => p.IsToldApart).Select(p => (p.First, p.Second));
    }

    /// <summary>The conclusion is another where a share lies outside the interval that it has with the noted records.</summary>
    public static AnswerChange Of(VarianceAnswer all, VarianceAnswer without)
    {
        (IReadOnlyList<VarianceShare> before, IReadOnlyList<VarianceShare> after) = (SharesOf(all), SharesOf(without));
        if (OfStatements(before.Count == 0 ? all.Statement : null, after.Count == 0 ? without.Statement : null) is { } told)
            return told;
        string scale = AskedOfNames.Parse(all.Of).Scale();
        Dictionary<string, VarianceShare> left = after.ToDictionary(s => s.Level, StringComparer.Ordinal);
        bool isOther = before.Any(s => !left.TryGetValue(s.Level, out VarianceShare? now)
            || now.Share < s.ShareLower95 || now.Share > s.ShareUpper95);
        if (!isOther)
            return new(false, $"no share of the variance of {scale} leaves the interval that it has with them.");
        IEnumerable<string> levels = before
            .Select(s => Invariant($"{s.Level} {(left.TryGetValue(s.Level, out VarianceShare? now) ? $"{now.Variance:0.0000}" : "none")}")
                + Invariant($" instead of {s.Variance:0.0000}"));
        return new(true, $"variance of {scale} {string.Join(", ", levels)}; a share lies outside the interval "
            + "that it has with them.");

        static IReadOnlyList<VarianceShare> SharesOf(VarianceAnswer answer) => answer.Shares.Count > 0 ? answer.Shares : answer.SitesAlone;
    }

    public static AnswerChange Of(ReleasedAgreement all, ReleasedAgreement without)
    {
        if (OfStatements(all.Ratio is null ? all.Sentence : null, without.Ratio is null ? without.Sentence : null) is { } told)
            return told;
        bool isOther = Side(all) != Side(without);
        return new(isOther, !isOther ? NoneChanges : $"over {without.Series} series instead of {all.Series} the two-bag k is "
            + $"{Two(without.Ratio)} times that of the fitted curve, instead of {Two(all.Ratio)}; the conclusion is another.");

        static int Side(ReleasedAgreement a) => a.RatioLower95 > 1 ? 1 : a.RatioUpper95 < 1 ? -1 : 0;
    }

    public static AnswerChange Of(ReleasedCalibration all, ReleasedCalibration without)
    {
        if (OfStatements(all.Difference is null ? all.Sentence : null, without.Difference is null ? without.Sentence : null) is { } told)
            return told;
        bool isOther = all.Side != without.Side;
        return new(isOther, !isOther ? NoneChanges
            : Invariant($"over {without.Series} series instead of {all.Series} S of the slow less S of the fast litter is ")
            + Invariant($"{without.Difference:0.000} instead of {all.Difference:0.000}; the conclusion is another."));
    }

    /// <summary>Where one of two answers is none; missing where both are.</summary>
    internal static AnswerChange? OfStatements(string? all, string? without) => (all, without) switch
    {
        (null, null) => null,
        (not null, not null) => new(false, "there is no answer either."),
        (null, not null) => new(true, $"there is no answer. {without}"),
        _ => new(true, "there is an answer, and none with them."),
    };

    private static string Two(double? value) => Invariant($"{value:0.00}");
}
