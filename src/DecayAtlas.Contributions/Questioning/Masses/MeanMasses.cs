using System.Globalization;

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
            bool isSame = Enumerable.Range(0, column.Cells.Count).Where(i => masses.Grams(column, i) is not null)
                .GroupBy(i => role ?? (i < table.RoleOfRow.Length ? table.RoleOfRow[i] : null))
                .All(own => own.Count() >= FewestSame && own.Select(i => masses.Grams(column, i)).Distinct().Count() == 1);
            if (!isSame || !Enumerable.Range(0, column.Cells.Count).Any(i => masses.Grams(column, i) is not null))
                continue;
            string? answer = _ask.Choose(Interview.Meaning, "one-mass",
                [_ask.Option("mean", "one-mass-mean"), _ask.Option("nominal", "one-mass-nominal"),
                _ask.Option("weighed", "one-mass-weighed")], column.Sense.Has(Concept.Mean) ? "mean" : null, column.Seen(), column.Name);
            if (answer is "mean" or "nominal")
                table.Draft.Bags["balance_resolution_g"] = MappingDraft.Value(StepFor(column));
            return;
        }
    }

    // A mass that was not weighed is off by what bags differ: a step whose rounding has that standard deviation, r = u √12 (JCGM 100:2008,
    // 4.3.7), makes k and S as uncertain as they are. It is taken for both masses, which is on the safe side.
    private string StepFor(AskedColumn column)
    {
        double? tolerance = Enumerable.Range(0, column.Cells.Count)
            .Select(i => table.RoleOfRow.ElementAtOrDefault(i) is { } role && CampaignLots.OfRow(table, i, role) is { } lot
                ? CampaignLots.Number(lot, "litter_mass_tolerance_g") is { } half ? half / Math.Sqrt(3) : (double?)null : null)
            .FirstOrDefault(u => u is not null);
        double mass = Enumerable.Range(0, column.Cells.Count).Select(i => masses.Grams(column, i)).OfType<double>().First();
        return ((tolerance ?? ScatterOfBags * mass) * Math.Sqrt(12)).ToString("0.###", CultureInfo.InvariantCulture);
    }
}
