namespace DecayAtlas.Cli.Reporting;

/// <summary>What suppositions would do to a release, as a person reads it.</summary>
internal static class SensitivityReport
{
    /// <param name="all">Whether everything is said in sentences, also what would stay.</param>
    public static void Write(Screen screen, string releaseId, SensitivityAnswer answer, bool all)
    {
        screen.Line($"Sensitivity of release {releaseId}: {answer.Burials} accepted weighed burials at {answer.Sites} sites, k and S made "
            + "again from their weighings; treated plots and burials without k are among them, means without weighings are not.");
        IGrouping<string, ReleasedSensitivity>[] suppositions = [.. answer.Rows.GroupBy(r => r.Supposition)];
        screen.Line("k and S of the middle one of the burials that a supposition concerns:");
        screen.Table(
            ["supposition", "k", "S", "concerns", "drop out", "come in", "pairs concluded otherwise", "k, 20 over 10 degC", "S per 10 K"],
            suppositions.Select(s => Row([.. s])));
        if (answer.Rows.FirstOrDefault(r => r.Quantity == ReleasedSensitivity.WarmthOf("k"))?.WarmthAsReleased is { } ratio)
        {
            string ofS = answer.Rows.FirstOrDefault(r => r.Quantity == ReleasedSensitivity.WarmthOf("s"))?.WarmthAsReleased is { } s
                ? FormattableString.Invariant($" and S changes by {s:0.000} per 10 K") : "";
            screen.Line(FormattableString.Invariant(
                $"As released, by these burials, k at 20 degC is {ratio:0.00} times that at 10 degC{ofS}."));
        }

        foreach (IGrouping<string, ReleasedSensitivity> supposed in suppositions)
        {
            ReleasedSensitivity[] told = [.. supposed.Where(r => all || (r.Changed > 0 && r.Quantity != "covariates"))];
            if (told.Length == 0)
                continue;
            screen.Line("");
            screen.Line($"{supposed.Key}: if {supposed.First().Supposed}");
            screen.Lines(told.Select(r => $"  {r.Quantity}: {r.Sentence}"));
        }

        screen.Line("");
        screen.Lines(answer.Cautions);
        if (!all)
        {
            screen.Line("--all says each of these in a sentence, with what would stay; what is supposed stands in docs/method.md, "
                + "section 16.");
        }
    }

    private static string[] Row(ReleasedSensitivity[] rows)
    {
        (ReleasedSensitivity? k, ReleasedSensitivity? s) = (Of("k"), Of("s"));
        ReleasedSensitivity[] pairs = [.. rows.Where(r => r is { IsOfPairs: true, Compared: not null })];
        return
        [
            rows[0].Supposition, k?.Median is { } ratio ? FormattableString.Invariant($"{100 * (ratio - 1):+0.0;-0.0;0.0} %") : "-",
            s?.Median is { } difference ? FormattableString.Invariant($"{difference:+0.000;-0.000;0.000}") : "-",
            $"{Math.Max(k?.Concerned ?? 0, s?.Concerned ?? 0)}", $"{Math.Max(k?.Gone ?? 0, s?.Gone ?? 0)}",
            $"{Math.Max(k?.Come ?? 0, s?.Come ?? 0)}",
            pairs.Length == 0 ? "-" : $"{pairs.Sum(p => p.Changed)} of {pairs.Sum(p => p.Compared)}",
            WarmthOf("k") is { } ten ? FormattableString.Invariant($"{ten:0.00}") : "-",
            WarmthOf("s") is { } change ? FormattableString.Invariant($"{change:+0.000;-0.000;0.000}") : "-",
        ];

        double? WarmthOf(string of) => Of(ReleasedSensitivity.WarmthOf(of))?.WarmthAsSupposed;

        ReleasedSensitivity? Of(string quantity) => rows.FirstOrDefault(r => r.Quantity == quantity);
    }
}
