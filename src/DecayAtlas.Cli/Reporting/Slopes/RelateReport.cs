using System.Globalization;

namespace DecayAtlas.Cli.Reporting.Slopes;

/// <summary>k or S beside a quantity, as a person reads it.</summary>
internal static class RelateReport
{
    public static void Write(Screen screen, string releaseId, WithAndWithoutNoted<RelateAnswer> both)
    {
        RelateAnswer answer = both.All;
        bool isRate = answer.Of == AskedOf.Rate.Code();
        string with = answer.With.Count > 0 ? $", adjusted for {string.Join(", ", answer.With)}" : "";
        screen.Line($"{(isRate ? "k" : "S")} beside {answer.To}{with}, release {releaseId}: {answer.Burials} burials at "
            + $"{answer.Sites} sites, untreated plots.");
        if (answer.SitesLeftOut > 0 && answer.Sites > 0)
            screen.Line($"Left out: {Counted.Of(answer.SitesLeftOut, "site")} where {answer.To} or a covariate is missing or withheld.");
        if (answer.Slope is { } slope)
        {
            screen.Line($"Mixed model of ln k and S, random: {string.Join(", ", answer.Levels.Append("burial"))}; with 95 % interval:");
            string p = slope.PValue < 0.001 ? "< 0.001" : Text(slope.PValue);
            screen.Table([$"for {answer.To} higher by", "change of", "value", "lower", "upper", "P", "df"],
            [
                ["one unit", isRate ? "ln k" : "S", .. Three(slope.PerUnit), p, Text(slope.DegreesOfFreedom)],
                [$"a standard deviation, {Text(answer.StandardDeviation!.Value)}", isRate ? "k, ratio" : "S",
                    .. Three(slope.PerStandardDeviation), p, Text(slope.DegreesOfFreedom)],
            ]);
        }
        else
        {
            screen.Line($"No answer: {answer.Statement}");
        }

        screen.Lines(answer.Sentences);
        screen.Line(both.Without.Sentence);
    }

    private static string[] Three(IntervalEstimate e) => [Text(e.Value), Text(e.Lower95), Text(e.Upper95)];

    private static string Text(double x) => x.ToString("G4", CultureInfo.InvariantCulture);
}
