namespace DecayAtlas.Contributions.Questioning.Masses;

/// <summary>One first mass for many bags: a mean or what a bag should hold, less sure than a weighing.</summary>
internal sealed class MeanMasses(AskedTable table, MassReading masses)
{
    /// <summary>Standard deviation of what bags filled by hand hold, as a share (common practice, no source).</summary>
    private const double ScatterOfBags = 0.02;

    private const int FewestSame = 4;

    private readonly Interview _ask = table.Ask;

    public void Make()
    {
        foreach (LitterRole? role in table.Roles)
        {
            if (table.Of(ColumnChoice.Initial, role) is not { } column)
                continue;
            int[] weighed = [.. Enumerable.Range(0, column.Cells.Count).Where(i => masses.Grams(column, i) is not null)];
            bool isSame = weighed.Length > 0 && weighed.GroupBy(i => role ?? table.RoleOfRow.ElementAtOrDefault(i))
                .All(own => own.Count() >= FewestSame && own.Select(i => masses.Grams(column, i)).Distinct().Count() == 1);
            if (!isSame)
                continue;
            string? answer = _ask.Choose(Interview.Meaning, "one-mass",
                [_ask.Option("mean", "one-mass-mean"), _ask.Option("nominal", "one-mass-nominal"),
                _ask.Option("weighed", "one-mass-weighed")], column.Sense.Has(Concept.Mean) ? "mean" : null, column.Seen(), column.Name);
            if (answer is not ("mean" or "nominal"))
                continue;
            double u = weighed.Max(i => UncertaintyOf(i, masses.Grams(column, i)!.Value, role));
            MassSource.AddUncertainty(table.Draft.BagsOf(role), "mass_initial_sd_g", MappingDraft.Value(MassSource.Text(u)));
            _ask.Tell("one-mass", weighed.Length, column.Seen(), column.Name, MassSource.Text(Math.Round(u, 3)));
        }
    }

    // A mass that was not weighed is off by what bags differ: the half width of what the lot allows, as likely anywhere within it (JCGM
    // 100:2008, 4.3.7), else what bags filled by hand usually differ by.
    private double UncertaintyOf(int row, double mass, LitterRole? role) =>
        (role ?? table.RoleOfRow.ElementAtOrDefault(row)) is { } own && CampaignLots.OfRow(table, row, own) is { } lot
            && CampaignLots.Number(lot, "litter_mass_tolerance_g") is { } half ? half / Math.Sqrt(3) : ScatterOfBags * mass;
}
