namespace DecayAtlas.Contributions.Layout.Blocks;

/// <summary>Tables whose columns differ in their units alone, as of a second balance: their numbers go below each other each with the unit
/// of its own table.</summary>
internal static class OwnUnits
{
    /// <summary>The name of a column without the unit in it, folded.</summary>
    public static string Plain(TidyColumn column) => InName(column.Name) is { } unit ? LayoutWords.Fold(Without(column.Name, unit))
        : LayoutWords.Fold(column.Name);

    /// <summary>g, mg or oz, where the name of a column ends with it.</summary>
    public static string? InName(string name)
    {
        string last = name.Split([' ', '(', ')', '[', ']', '_', ',', '/'], StringSplitOptions.RemoveEmptyEntries).LastOrDefault() ?? "";
        return last.Length < name.Length && LayoutWords.IsUnitOfMass(last) ? last : null;
    }

    /// <summary>Gives the numbers of a column each the unit that held where they stand, where it changes within the table.</summary>
    /// <param name="changes">Where units or names stand again: the first row below, and the unit of each column where one is said.</param>
    public static void ByRows(Block block, IReadOnlyList<(int Before, string?[] Units)> changes, LayoutNotes notes)
    {
        for (int i = 0; i < block.Columns.Count; i++)
        {
            string? first = UnitOf(block.Columns[i]);
            if (first is null || !changes.Any(change => Other(change.Units[i], first)))
                continue;
            int column = i;
            block.Rows = [.. block.Rows.Select((row, at) =>
            {
                string unit = changes.LastOrDefault(change => change.Before <= at && IsMass(change.Units[column])).Units?[column] ?? first;
                return row with { Cells = [.. row.Cells.Select((cell, c) => c == column ? WithUnit(cell, unit) : cell)] };
            })];
            notes.Tell("units-of-tables", block.Rows[0].Cells[i], $"{first}, {changes.First(change => Other(change.Units[column], first))
                .Units[column]}");
            block.Columns[i] = block.Columns[i] with { Name = Named(block.Columns[i]), Unit = null };
        }

        static bool Other(string? unit, string first) => IsMass(unit) && !string.Equals(unit, first, StringComparison.OrdinalIgnoreCase);
    }

    private static bool IsMass(string? unit) => LayoutWords.IsUnitOfMass(unit);

    private static string Named(TidyColumn column) => InName(column.Name) is { } unit ? Without(column.Name, unit) : column.Name;

    /// <summary>The tables, with the unit in the cells of those columns that have more than one.</summary>
    public static List<Block> InCells(List<Block> family, LayoutNotes notes)
    {
        HashSet<string> mixed = [.. family.SelectMany(block => block.Columns).Where(column => UnitOf(column) is not null)
            .GroupBy(Plain).Where(alike => alike.Select(column => UnitOf(column)!.ToUpperInvariant()).Distinct().Count() > 1)
            .Select(alike => alike.Key)];
        return mixed.Count == 0 ? family : family.ConvertAll(block => Of(block, mixed, notes));
    }

    private static Block Of(Block block, HashSet<string> mixed, LayoutNotes notes)
    {
        string?[] units = [.. block.Columns.Select(column => mixed.Contains(Plain(column)) ? UnitOf(column) : null)];
        Block own = new(block.Sheet, block.IsOfHiddenSheet, [.. block.Columns.Select(column => mixed.Contains(Plain(column))
            ? column with { Name = Named(column), Unit = null } : column)])
        {
            LinesAbove = block.LinesAbove,
            PairsAbove = block.PairsAbove,
            Rows = block.Rows.ConvertAll(row => row with { Cells = [.. row.Cells.Select((cell, i) => WithUnit(cell, units[i]))] }),
        };
        for (int i = 0; i < units.Length; i++)
        {
            if (units[i] is not null)
                notes.Tell("units-of-tables", own.Rows.Select(row => row.Cells[i]).FirstOrDefault(cell => cell is not null), units[i]);
        }
        return own;
    }

    private static TidyCell? WithUnit(TidyCell? cell, string? unit) => unit is null || cell is null
        || CellNatures.Of(cell.Value) != CellNature.Number || !char.IsAsciiDigit(cell.Value.Text.TrimEnd()[^1])
            ? cell : cell with { Value = SheetCell.OfText($"{cell.Value.Text.Trim()} {unit}") };

    private static string? UnitOf(TidyColumn column) => (column.Unit ?? InName(column.Name)) is { } unit && IsMass(unit) ? unit : null;

    // mass (mg), mass [mg], mass in mg, mass_mg
    private static string Without(string name, string unit)
    {
        string plain = name[..name.LastIndexOf(unit, StringComparison.Ordinal)].TrimEnd(' ', '(', '[', '_', ',', '/');
        return plain.EndsWith(" in", StringComparison.OrdinalIgnoreCase) ? plain[..^3].TrimEnd() : plain;
    }
}
