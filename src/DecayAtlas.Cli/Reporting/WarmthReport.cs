namespace DecayAtlas.Cli.Reporting;

/// <summary>The response to warmth, as a person reads it.</summary>
internal static class WarmthReport
{
    public static void Write(Screen screen, string releaseId, WithAndWithoutNoted<WarmthAnswer> both)
    {
        WarmthAnswer answer = both.All;
        string moisture = answer.MoistureBy is { } m ? $", with {m} as second factor" : "";
        screen.Line($"Response of k to {answer.Temperature}{moisture}, release {releaseId}: {answer.Sites} sites, one point each, "
            + "untreated plots.");
        if (answer.SitesLeftOut > 0)
            screen.Line($"Left out: {answer.SitesLeftOut} sites where a covariate is missing or withheld.");
        if (answer.Statement is { } statement)
        {
            screen.Line($"No response: {statement}");
        }
        else
        {
            screen.Line("Each fitted to ln k by least squares, the lowest AICc first; Q10 from 10 to 20 degC with 95 % interval:");
            screen.Table(["form", "moisture", "parameter", "value", "lower", "upper", "Q10", "lower", "upper", "R2", "AICc"],
                answer.Responses.Select(r => (string[])
                [
                    r.Form, r.Moisture, ParameterOf(r.Form), .. Three(r.Sensitivity), .. Three(r.Q10At15), $"{r.ShareExplained:0.000}",
                    r.Aicc is { } a ? $"{a:0.0}" : "-",
                ]));
        }

        screen.Line(answer.Warmed is { } w
            ? $"Warmed plots beside untreated ones: {w.Pairs} pairs."
            : $"No warmed plots: {answer.WarmedStatement}");
        screen.Lines(answer.Sentences);
        screen.Line(both.Without.Sentence);
    }

    private static string ParameterOf(string form) => form switch
    {
        "q10" => "Q10",
        "arrhenius" => "E, kJ/mol",
        _ => "E0, K",
    };

    private static string[] Three(IntervalEstimate e) => [$"{e.Value:0.00}", $"{e.Lower95:0.00}", $"{e.Upper95:0.00}"];
}
