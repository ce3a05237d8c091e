namespace DecayAtlas.Cli.Reporting.Slopes;

/// <summary>The response to warmth, as a person reads it.</summary>
internal static class WarmthReport
{
    public static void Write(Screen screen, string releaseId, WithAndWithoutNoted<WarmthAnswer> both)
    {
        WarmthAnswer answer = both.All;
        bool isRate = answer.Of == AskedOf.Rate.Code();
        string moisture = answer.MoistureBy is { } m ? $", with {m} as second factor" : "";
        string with = answer.With.Count > 0 ? $", adjusted for {string.Join(", ", answer.With)}" : "";
        screen.Line($"Response of {(isRate ? "k" : "S")} to {answer.Temperature}{moisture}{with}, release {releaseId}: {answer.Burials} "
            + $"burials at {answer.Sites} sites, untreated plots.");
        if (answer.SitesLeftOut > 0)
            screen.Line($"Left out: {Counted.Of(answer.SitesLeftOut, "site")} where a covariate is missing or withheld.");
        if (answer.Statement is { } statement)
        {
            screen.Line($"No response: {statement}");
        }
        else
        {
            (string scale, string change, string head) = isRate
                ? ("ln k", "Q10 from 10 to 20 degC", "Q10") : ("S", "change per 10 K", "per 10 K");
            screen.Line($"Mixed model, random: {string.Join(", ", answer.Levels.Append("burial"))}. The lowest AICc first; within 2 of it "
                + $"{(answer.MoistureBy is null ? "" : "and the best without moisture ")}by ln k and S together, the others by "
                + $"{scale} alone; {change} with 95 % interval:");
            screen.Table(["form", "moisture", "parameter", "value", "lower", "upper", head, "lower", "upper", "R2", "AICc"],
                answer.Responses.Select(r => (string[])
                [
                    r.Form, r.Moisture, ParameterOf(r.Form), .. Three(r.Sensitivity, r.Form), .. Three(r.PerTenKelvin, r.Form),
                    $"{r.ShareExplained:0.000}", r.Aicc is { } a ? $"{a:0.0}" : "-",
                ]));
        }

        screen.Line(answer.Warmed is { } w
            ? $"Warmed plots beside untreated ones: {w.Sites} sites."
            : $"No warmed plots: {answer.WarmedStatement}");
        screen.Lines(answer.Sentences);
        screen.Line(both.Without.Sentence);
    }

    private static string ParameterOf(string form) => form switch
    {
        "q10" => "Q10",
        "arrhenius" => "E, kJ/mol",
        "line" => "S per 10 K",
        _ => "E0, K",
    };

    private static string[] Three(IntervalEstimate e, string form)
    {
        string digits = form == "line" ? "0.000" : "0.00";
        return [Text(e.Value), Text(e.Lower95), Text(e.Upper95)];

        string Text(double x) => x.ToString(digits, System.Globalization.CultureInfo.InvariantCulture);
    }
}
