namespace DecayAtlas.Contributions.Questioning.Columns;

/// <summary>Masses with ± behind them in rows that each have a hole or a bag of their own: one bag, and how far its weighing may be off, or
/// the mean of several.</summary>
internal static class WeighedWithError
{
    public static void Ask(AskedTable table)
    {
        AskedColumn[] means = [.. table.Columns.Where(column => column.Header.Part == CellPart.Mean)];
        if (means.Length == 0 || MeanColumns.CountOf(table) is not null || MeanColumns.SaidIn(table).Length > 0
            || table.Columns.Any(column => column.Header.Part == CellPart.Count || MeanColumns.CountOf(table, column.Sense.Role) == column)
            || Name(table) is not { } name)
        {
            return;
        }
        Interview ask = table.Ask;
        // a mean of one is none
        bool isOne = table.Columns.Any(column => column.Sense.Has(Concept.Count) && column.Header.Part == CellPart.Whole
            && column.Distinct is ["1"]);
        if (isOne || ask.Choose(Interview.Columns, "plus-minus", [ask.Option("bag", "plus-minus-bag"),
            ask.Option("mean", "plus-minus-mean")], null, [.. means.SelectMany(column => column.Seen().Take(2))], means[0].Name,
            name.Name) == "bag")
        {
            table.ReadAsBags();
        }
    }

    // in every row, and not the same in all
    private static AskedColumn? Name(AskedTable table) => table.Columns.FirstOrDefault(column => column.Header.Part == CellPart.Whole
        && column.Sense.HasAny(Concept.Burial, Concept.Bag, Concept.Number, Concept.Replicate) && !column.Sense.HasAny(Concept.Mass,
            Concept.First, Concept.Last, Concept.Count, Concept.Tare)
        && column.Filled == table.Rows.Count && column.Distinct.Count > 1);
}
