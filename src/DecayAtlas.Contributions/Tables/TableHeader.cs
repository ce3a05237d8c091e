using System.Globalization;

namespace DecayAtlas.Contributions.Tables;

/// <param name="OrdinalOfColumn">For each column of the file, the ordinal of its field, or -1.</param>
/// <param name="IsComplete">All required columns are there and none is unknown or repeated.</param>
/// <param name="IsMissing">The first row names no column at all, so that nothing can be said of the others.</param>
internal sealed record TableHeader(int[] OrdinalOfColumn, bool IsComplete, bool IsMissing = false)
{
    private const int LongestNumber = 64;

    public static TableHeader Match(TableSchema schema, string file, IReadOnlyList<string> columns, FindingList findings) =>
        Match(schema, columns, findings, (finding, _) => finding with { File = file, Row = 1 });

    /// <param name="locate">Gives a finding its place; column -1 stands for the header as a whole.</param>
    public static TableHeader Match(TableSchema schema, IReadOnlyList<string> columns, FindingList findings,
        Func<Finding, int, Finding> locate)
    {
        if (OtherTable(schema, columns) is { } other)
        {
            Tell(-1, new Finding(
                FindingCode.TableOther, $"the columns of the table {other.Name}", $"the columns of the table {schema.Name}",
                $"put the table {schema.Name} here; it may lie where {other.Name} is expected, then exchange the two"));
            return new TableHeader([.. columns.Select(_ => -1)], false);
        }
        if (WhyNone(schema, columns) is { } instead)
        {
            string expected = $"the names of the columns of the table {schema.Name}: {string.Join(", ", schema.ColumnNames)}";
            Tell(-1, new Finding(FindingCode.HeaderMissing, instead, expected, "write the header as the first line"));
            return new TableHeader([.. columns.Select(_ => -1)], false, true);
        }

        int before = findings.Count;
        for (int i = 0; i < columns.Count; i++)
        {
            if (columns[i].Length > FieldSchema.LongestOfAll)
                Tell(i, CellCheck.NameTooLong(i, columns[i].Length));
        }
        int[] ordinals = [.. columns.Select(schema.FindOrdinal)];
        List<string> absent = [.. schema.ColumnNames.Except(columns)];
        for (int i = 0; i < ordinals.Length; i++)
        {
            string name = columns[i];
            if (ordinals[i] >= 0 && Array.IndexOf(ordinals, ordinals[i]) < i)
            {
                Tell(i, new Finding(FindingCode.ColumnRepeated, "", null, name, "the column a second time", "each column once",
                    "take one of the two out"));
                ordinals[i] = -1;
            }
            else if (ordinals[i] < 0 && name.Length <= FieldSchema.LongestOfAll)
            {
                string? meant = Nearest.Of(name, absent);
                string found = name.Length == 0 ? Invariant($"column {i + 1} without a name")
                    : $"an unknown column {FindingText.Quote(name)}";
                Tell(i, new Finding(FindingCode.ColumnExtra, "", null, name.Length == 0 ? null : name, found,
                    meant ?? $"only columns of the table {schema.Name}",
                    meant is null ? "take the column out; remarks go into notes" : $"rename it to {meant}"));
                if (meant is not null)
                    absent.Remove(meant);
            }
        }
        foreach (string name in absent.Where(name => schema.Fields[schema.OrdinalOf(name)].Required))
        {
            Tell(-1, new Finding(FindingCode.ColumnMissing, "", null, name, "no such column", $"the required column {name}",
                "add the column and fill it in"));
        }
        return new TableHeader(ordinals, findings.Count == before);

        void Tell(int column, Finding finding) => findings.Add(locate(finding, column));
    }

    // The table whose columns these are, where they are not of this one: said as a whole, since column by column the advice would be to
    // rename what is right.
    private static TableSchema? OtherTable(TableSchema schema, IReadOnlyList<string> columns) =>
        HasAll(schema, columns) ? null : SchemaCatalogue.Tables.FirstOrDefault(other => other != schema && HasAll(other, columns));

    // What the first row is if it is no header; null where it is one. Column by column the advice would be to take out all that is there.
    // Names that are close to ours are a header with faults, and each is told.
    private static string? WhyNone(TableSchema schema, IReadOnlyList<string> columns) =>
        columns.Any(name => schema.FindOrdinal(name) >= 0) ? null
        : columns.Any(IsValue) ? "data, not the names of columns, in the first row"
        : columns.Any(name => Nearest.Of(name, schema.ColumnNames) is not null) ? null
        : "no name of a column in the first row";

    private static bool IsValue(string cell) => cell.Length is > 0 and <= LongestNumber
        && (double.TryParse(cell, NumberStyles.Float, CultureInfo.InvariantCulture, out _)
            || DateOnly.TryParseExact(cell, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out _));

    private static bool HasAll(TableSchema table, IReadOnlyList<string> columns) =>
        table.Fields.Where(f => f.Required).All(f => columns.Contains(f.Name));
}
