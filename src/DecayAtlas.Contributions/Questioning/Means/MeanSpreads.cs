namespace DecayAtlas.Contributions.Questioning.Means;

/// <summary>What the numbers beside means are: standard deviations, standard errors, or half of an interval; by names, by lines beside the
/// table, else asked once for all.</summary>
internal sealed class MeanSpreads(AskedTable table)
{
    private readonly Interview _ask = table.Ask;

    /// <summary>The standard deviation of one of them, and of how many its mean is.</summary>
    public Func<double, int, double?> ToSd(AskedColumn spread) => KindOf(spread) switch
    {
        "se" => (x, n) => x * Math.Sqrt(n),
        // half of the interval of a mean is t(0.975, n - 1) sd/√n
        "ci" => (x, n) => x / DecayAtlas.Decomposition.SampleSummary.OfMoments(n, 0, 1).Upper95,
        "none" => (_, _) => null,
        _ => (x, _) => x,
    };

    private string? KindOf(AskedColumn spread)
    {
        string? said = KindOf(spread.Sense) ?? KindOfLines();
        if (said is "se" or "ci")
            _ask.Tell(said == "se" ? "standard-error" : "interval", spread.Filled, spread.Seen(), spread.Name);
        if (said is not null)
            return said;
        AskedColumn[] open = [.. table.Columns.Where(column => column.IsNumbers && column.Sense.Has(Concept.Spread)
            && KindOf(column.Sense) is null)];
        return _ask.Choose(Interview.Meaning, "spread", [_ask.Option("sd", "spread-sd"), _ask.Option("se", "spread-se"),
            _ask.Option("ci", "spread-ci"), _ask.Option("none", "spread-none")], null,
            [.. open.SelectMany(column => column.Seen().Take(2))], string.Join(", ", open.Select(column => column.Name)));
    }

    private static string? KindOf(HeaderSense sense) => sense.Has(Concept.Interval) ? "ci" : sense.Has(Concept.StandardError) ? "se"
        : sense.Has(Concept.Sd) ? "sd" : null;

    // mean ± SE (n = 5) above or below the table
    private string? KindOfLines() => table.Lines.Select(line => HeaderWords.Read(line.Value.Text, null))
        .Where(sense => sense.HasAny(Concept.Mean, Concept.Spread)).Select(KindOf).OfType<string>().Distinct().ToArray() is [string only]
            ? only : null;
}
