using System.Globalization;

namespace DecayAtlas.Cli.Reporting;

/// <summary>Groups, pairs and variance shares as a person reads them.</summary>
internal static class ComparisonReport
{
    /// <summary>More pairs than this and only those told apart, at least among the pairs of their question, get their sentence; the table
    /// has them all.</summary>
    private const int MostSentences = 6;

    /// <summary>How many comparisons a release makes by itself, and what one asked by hand is beside them.</summary>
    public static string FamilySentence(int made, int standing) =>
        $"Of {Counted.Of(made, "comparison")} this release makes, {standing} {(standing == 1 ? "stands" : "stand")} after correction "
        + "for all; a comparison asked by hand with --with or other choices comes on top, and is corrected for its own pairs alone.";

    public static void Write(
        Screen screen, string releaseId, string by, IReadOnlyList<string> covariates, WithAndWithoutNoted<GroupAnswer> comparison,
        WithAndWithoutNoted<VarianceAnswer>? variance)
    {
        GroupAnswer groups = comparison.All;
        bool isRate = groups.Of == AskedOf.Rate.Code();
        string adjusted = covariates.Count > 0 ? $", adjusted for {string.Join(", ", covariates)}" : "";
        string split = groups.BurialsByEvidence.Count == 0 ? "" : $" ({ReleasedRates.Split(groups.BurialsByEvidence)})";
        screen.Line($"{(isRate ? "Decay rate k" : "Stabilisation factor S")} by {by}{adjusted}, release {releaseId}: {groups.Burials} "
            + $"accepted burials {(isRate ? "with k above 0 " : "")}at {groups.Sites} sites{split}.");
        if (groups.LeftOut.Count > 0)
            screen.Line($"Left out: {string.Join("; ", groups.LeftOut)}.");
        if (groups.Statement is { } statement)
            screen.Line($"No comparison: {statement}");
        else
            WriteGroups(screen, by, groups, isRate);
        screen.Line(comparison.Without.Sentence);
        if (variance is null)
            return;
        screen.Line("");
        WriteVariance(screen, variance.All);
        screen.Line(variance.Without.Sentence);
    }

    private static void WriteGroups(Screen screen, string by, GroupAnswer answer, bool isRate)
    {
        (string symbol, string scale) = isRate ? ("k", "ln k") : ("S", "S");
        screen.Line($"Mixed model of ln k and S, groups fixed, random: {string.Join(", ", answer.Levels.Append("burial"))}; {symbol} "
            + $"{(isRate ? "per day " : "")}with 95 % interval:");
        screen.Table([by, "burials", "sites", symbol, "lower", "upper"],
            answer.Groups.Select(g => new[]
            {
                Named(g.Name), $"{g.Burials}", $"{g.Sites}", Level(g.Value), Level(g.Lower95), Level(g.Upper95),
            }));
        if (answer.Covariates.Count > 0)
        {
            screen.Line($"Change of {scale} for one unit of a covariate:");
            screen.Table(["covariate", "slope", "lower", "upper", "P"],
                answer.Covariates.Select(c => new[]
                {
                    c.Name, Slope(c.PerUnit), Slope(c.Lower95), Slope(c.Upper95), Probability(c.PValue),
                }));
        }

        bool isOfRelease = answer.Pairs.Any(p => p.FamilyPValue is not null);
        screen.Line($"Pairs: {(isRate ? "ratio of k" : "difference of S")} with 95 % interval, P after Holm's correction for these pairs"
            + $"{(isOfRelease ? " and for all of the release" : "")}, and the difference of {scale} in standard deviations of single "
            + "burials:");
        screen.Table(
            [
                "pair", isRate ? "ratio" : "difference", "lower", "upper", "df", "P", .. isOfRelease ? (string[])["P of all"] : [],
                "effect", "lower", "upper",
            ],
            answer.Pairs.Select(p => (string[])
            [
                $"{Named(p.Second)} {(isRate ? "/" : "-")} {Named(p.First)}",
                Contrast(p.Contrast), Contrast(p.Lower95), Contrast(p.Upper95),
                $"{p.DegreesOfFreedom:0.0}", Probability(p.HolmPValue),
                .. isOfRelease ? (string[])[Probability(p.FamilyPValue)] : [],
                Two(p.EffectSize), Two(p.EffectLower95), Two(p.EffectUpper95),
            ]));

        screen.Lines(answer.Pairs.Where(p => answer.Pairs.Count <= MostSentences || p.IsToldApartInItsQuestion)
            .Select(pair => pair.Sentence));
        if (answer.Pairs.Count > MostSentences)
            screen.Line($"After Holm's correction{(isOfRelease ? " for all pairs of the release" : "")} {answer.ToldApart}.");
        screen.Lines(answer.Caution);

        string Named(string group) => GroupQuestion.NameOf(by, group);

        string Level(double? value) => Text(value, isRate ? "0.0000" : "0.000");

        string Contrast(double? value) => Text(value, isRate ? "0.00" : "0.000");
    }

    private static void WriteVariance(Screen screen, VarianceAnswer answer)
    {
        screen.Line($"Where the variance of {(answer.Of == AskedOf.Rate.Code() ? "ln k" : "S")} lies, over {answer.Burials} burials of "
            + "untreated plots, known errors of weighings, batches and lots taken off:");
        if (answer.Statement is { } statement)
        {
            screen.Line($"No shares: {statement}");
        }
        else
        {
            screen.Table(["level", "units", "variance", "share", "lower", "upper"],
                answer.Shares.Select(s => new[]
                {
                    s.Level, $"{s.Units}", Text(s.Variance, "G3"), Share(s.Share), Share(s.ShareLower95), Share(s.ShareUpper95),
                }));
        }

        if (answer.SiteCorrelation is { } correlation)
        {
            screen.Line($"Intraclass correlation of the burials of one site: {Share(correlation)} (95 % interval "
                + $"{Share(answer.SiteCorrelationLower95)} to {Share(answer.SiteCorrelationUpper95)}).");
        }

        if (answer.Repeatability is { } repeatability)
        {
            screen.Line("Repeatability of a site's mean of one campaign: " + string.Join(", ",
                repeatability.Select(r => $"{Share(r.Value)} with {r.Key} burials")) + ".");
        }
    }

    private static string Two(double? value) => Text(value, "0.00");

    private static string Share(double? value) => Text(value, "0.000");

    private static string Slope(double? value) => Text(value, "G3");

    private static string Text(double? value, string format) => value?.ToString(format, CultureInfo.InvariantCulture) ?? "-";

    private static string Probability(double? p) => p is { } value ? GroupQuestion.Probability(value).TrimStart('=', ' ') : "-";
}
