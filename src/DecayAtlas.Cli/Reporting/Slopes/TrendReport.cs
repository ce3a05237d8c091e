using System.Globalization;

namespace DecayAtlas.Cli.Reporting.Slopes;

/// <summary>The change over campaigns, as a person reads it.</summary>
internal static class TrendReport
{
    public static void Write(Screen screen, string releaseId, WithAndWithoutNoted<TrendAnswer> both)
    {
        TrendAnswer answer = both.All;
        bool isRate = answer.Of == AskedOf.Rate.Code();
        string with = answer.With.Count > 0 ? $", adjusted for {string.Join(", ", answer.With)}" : "";
        screen.Line($"Change of {(isRate ? "k" : "S")} over campaigns{with}, release {releaseId}: {answer.Burials} burials at "
            + $"{answer.Sites} sites, {answer.SitesDugAgain} of them dug again, untreated plots.");
        if (answer.SitesLeftOut > 0)
            screen.Line($"Left out: {Counted.Of(answer.SitesLeftOut, "site")} where a covariate or the dates are missing or withheld.");
        screen.Table(["campaign", "mean day", "burials", "sites", "new sites"], answer.Campaigns.Select(c => (string[])
            [c.Campaign, c.MeanDay.ToString("O", CultureInfo.InvariantCulture), $"{c.Burials}", $"{c.Sites}", $"{c.NewSites}"]));
        if (answer.Statement is { } statement)
        {
            screen.Line($"No answer: {statement}");
        }
        else
        {
            screen.Line($"Mixed model of ln k and S, random: {string.Join(", ", answer.Levels.Append("burial"))}; "
                + $"{(isRate ? "ratio of k" : "difference of S")} per year with 95 % interval:");
            screen.Table(["over", isRate ? "ratio" : "difference", "lower", "upper", "P", "df"], answer.Slopes.Select(s => (string[])
                [s.Over, Text(s.PerYear.Value), Text(s.PerYear.Lower95), Text(s.PerYear.Upper95), Text(s.PValue),
                    s.DegreesOfFreedom.ToString("0.0", CultureInfo.InvariantCulture)]));
        }

        screen.Lines(answer.Sentences);
        screen.Line(both.Without.Sentence);
    }

    private static string Text(double x) => x.ToString("0.0000", CultureInfo.InvariantCulture);
}
