namespace DecayAtlas.Contributions.Questioning.Columns;

/// <summary>Columns of the shares that were lost or are left, where their names say neither, or where no mass stands beside them.</summary>
internal static class ShareColumns
{
    /// <summary>What is no unit of a share though it stands beside a litter's name.</summary>
    private static readonly Concept[] Silent = [Concept.Mass, Concept.Litter, Concept.Mean, Concept.Lot, Concept.OfLitter];

    /// <summary>Columns of per cent that say of which litter they are and not of what: lost or left is asked once.</summary>
    /// <param name="meant">What each column is most likely.</param>
    public static IEnumerable<(AskedColumn Column, string Field, int Score)> Find(AskedTable table, IReadOnlyList<AskedColumn> meant)
    {
        // a title says per cent of the columns that stand below it
        bool isPercentAbove = table.Lines.Any(line => line.Value.Text.Contains('%', StringComparison.Ordinal)
            && HeaderWords.Read(line.Value.Text, null).HasAny(Concept.Loss, Concept.Remaining));
        AskedColumn[] silent = [.. table.Columns.Where(column => !meant.Contains(column) && column.IsNumbers && !column.IsHidden
            && (IsPercent(column) || (isPercentAbove && IsShare(column)))
            && column.Sense.Concepts.All(concept => Silent.Contains(concept)) && table.RoleOf(column) is not null)];
        if (silent.Select(table.RoleOf).Distinct().Count() != 2 || silent.Length != 2)
            return [];
        string[] lines = [.. table.Lines.Select(line => HeaderWords.Read(line.Value.Text, null))
            .Select(sense => sense.Has(Concept.Loss) ? "loss" : sense.Has(Concept.Remaining) ? "remaining" : null)
            .OfType<string>().Distinct()];
        string? answer = table.Ask.Choose(Interview.Columns, "share-kind", [table.Ask.Option("loss", "share-kind-loss"),
            table.Ask.Option("remaining", "share-kind-remaining")], lines is [string said] ? said : null,
            [.. silent.SelectMany(column => column.Seen().Take(3))], silent[0].Name, silent[1].Name);
        return silent.Select(column => (column, answer == "remaining" ? ColumnChoice.Remaining : ColumnChoice.Loss, 10));
    }

    /// <summary>Whether of each litter the share that was lost or is left is all that there is: no mass, and no column that may hold
    /// one.</summary>
    /// <remarks>k and S that somebody computed of shares go before them.</remarks>
    public static bool AreAlone(AskedTable table) => (table.Of(ColumnChoice.Rate) is null || table.Of(ColumnChoice.Stabilisation) is null)
        && table.Roles.All(role => table.Of(ColumnChoice.Initial, role) is null
            && table.Of(ColumnChoice.Final, role) is null && Of(table, role) is { } share && IsShare(share))
        && (!table.Columns.Any(column => MassColumns.AreMasses(column) && !table.Chosen.ContainsValue(column) && !IsPercent(column))
            || table.Roles.All(role => table.Ask.AnswerTo(ColumnChoice.IdOf(ColumnChoice.Initial, role)) == "none"));

    public static AskedColumn? Of(AskedTable table, LitterRole? role) =>
        table.Of(ColumnChoice.Loss, role) ?? table.Of(ColumnChoice.Remaining, role);

    public static bool IsLoss(AskedTable table, AskedColumn column) => column.Sense.HasAny(Concept.Loss, Concept.Change)
        || table.Chosen.Any(entry => entry.Key.Field == ColumnChoice.Loss && entry.Value == column);

    private static bool IsPercent(AskedColumn column) => column.Sense.Unit == "percent"
        || column.Distinct.Any(text => WrittenNumber.Of(text)?.Unit == "percent");

    // more than litter in a bag can weigh is no mass
    private static bool IsShare(AskedColumn column)
    {
        if (IsPercent(column))
            return true;
        if (column.Sense.Unit is not null)
            return false;
        // looks through the whole column
        NumberForm form = NumberForm.Of(column)[0];
        return Enumerable.Range(0, column.Cells.Count).Max(row => form.Read(column, row)) > MassColumns.MostGrams;
    }
}
