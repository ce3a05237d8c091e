namespace DecayAtlas.Contributions.Questioning.Columns;

/// <summary>Finds the columns of a table whose rows are means: of each litter the share that was left or lost, with its standard
/// deviation.</summary>
internal static class MeanShares
{
    /// <summary>Whether a row holds, of both litters, the mean share that was left or lost with its standard deviation, and of how many
    /// burials.</summary>
    public static bool Are(AskedTable table) => CountOf(table) is not null
        && new[] { LitterRole.Fast, LitterRole.Slow }.All(role => Of(table, role) is not null);

    public static AskedColumn? CountOf(AskedTable table) => table.Columns.FirstOrDefault(column => column.IsNumbers
        && column.Sense.Has(Concept.Count) && table.RoleOf(column) is null);

    // the mean, and the deviation that says its litter or stands right behind it; a standard error is none
    public static (AskedColumn Mean, AskedColumn Deviation)? Of(AskedTable table, LitterRole role)
    {
        AskedColumn[] means = [.. table.Columns.Where(column => column.IsNumbers && table.RoleOf(column) == role
            && column.Sense.HasAny(Concept.Remaining, Concept.Loss) && !column.Sense.Has(Concept.Sd)
            && column.Sense.Unit is null or "percent" or "fraction")];
        if (means is not [AskedColumn mean])
            return null;
        AskedColumn[] deviations = [.. table.Columns.Where(column => column.IsNumbers && column.Sense.Has(Concept.Sd)
            && (table.RoleOf(column) == role || (table.RoleOf(column) is null && column.Ordinal == mean.Ordinal + 1))
            && !Identifier.Folded(column.Name).Split(' ', '(', ')', '_', '.').Any(word => word is "sem" or "se" or "error"))];
        return deviations is [AskedColumn deviation] ? (mean, deviation) : null;
    }
}
