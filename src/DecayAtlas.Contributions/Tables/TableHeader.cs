using System.Globalization;

namespace DecayAtlas.Contributions.Tables;

/// <summary>The header of a table's file, matched with the schema.</summary>
/// <param name="OrdinalOfColumn">For each column of the file, the ordinal of its field, or -1.</param>
/// <param name="IsComplete">All required columns are there and none is unknown or repeated.</param>
/// <param name="IsMissing">The first row names no column at all, so that nothing can be said of the others.</param>
internal sealed record TableHeader(int[] OrdinalOfColumn, bool IsComplete, bool IsMissing = false)
{
    private const int LongestNumber = 64;

    /// <summary>Matches the header of a CSV file.</summary>
    public static TableHeader Match(TableSchema schema, string file, IReadOnlyList<string> columns, FindingList findings) =>
        Match(schema, columns, findings, (finding, _) => finding with { File = file, Row = 1 });

    /// <summary>Matches a header.</summary>
    /// <param name="locate">Gives a finding its place; column -1 stands for the header as a whole.</param>
    public static TableHeader Match(TableSchema schema, IReadOnlyList<string> columns, FindingList findings,
        Func<Finding, int, Finding> locate)
    {
        if (OtherTable(schema, columns) is { } other)
        {
            findings.Add(locate(new Finding(FindingCode.TableOther, "", null,
                null, $"the columns of the table {other.Name}", $"the columns of the table {schema.Name}",
                $"put the table {schema.Name} here; it may lie where {other.Name} is expected, then exchange the two"), -1));
            return new TableHeader([.. columns.Select(_ => -1)], false);
        }

        if (WhyNone(schema, columns) is { } instead)
        {
            findings.Add(locate(new Finding(FindingCode.HeaderMissing, "", null, null, instead,
                $"the names of the columns of the table {schema.Name}: {string.Join(", ", schema.ColumnNames)}",
                "write the header as the first line"), -1));
            return new TableHeader([.. columns.Select(_ => -1)], false, true);
        }

        int before = findings.Count;
        for (int i = 0; i < columns.Count; i++)
        {
            if (columns[i].Length > FieldSchema.LongestOfAll)
                findings.Add(locate(CellCheck.NameTooLong(i, columns[i].Length), i));
        }
        int[] ordinals = [.. columns.Select(schema.FindOrdinal)];
        List<string> absent = [.. schema.ColumnNames.Except(columns, StringComparer.Ordinal)];
        for (int i = 0; i < ordinals.Length; i++)
        {
            if (ordinals[i] >= 0 && Array.IndexOf(ordinals, ordinals[i]) < i)
            {
                findings.Add(
                    locate(new Finding(FindingCode.ColumnRepeated, "", null, columns[i], "the column a second time", "each column once",
                        "take one of the two out"), i));
                ordinals[i] = -1;
            }
            else if (ordinals[i] < 0 && columns[i].Length <= FieldSchema.LongestOfAll)
            {
                string? meant = Nearest.Of(columns[i], absent);
                string found = columns[i].Length == 0 ? FormattableString.Invariant($"column {i + 1} without a name")
                    : $"an unknown column {FindingText.Quote(columns[i])}";
                findings.Add(locate(new Finding(FindingCode.ColumnExtra, "", null, columns[i].Length == 0 ? null : columns[i], found,
                    meant ?? $"only columns of the table {schema.Name}",
                    meant is null ? "take the column out; remarks go into notes" : $"rename it to {meant}"), i));
                if (meant is not null)
                    absent.Remove(meant);
            }
        }
        foreach (string name in absent.Where(name => schema.Fields[schema.OrdinalOf(name)].Required))
        {
            findings.Add(
                locate(new Finding(FindingCode.ColumnMissing, "", null, name, "no such column", $"the required column {name}",
                    "add the column and fill it in"), -1));
        }

        return new TableHeader(ordinals, findings.Count == before);
    }

    /// <summary>The table whose columns these are, where they are not of this one: said as a whole, since column by column the advice would
    /// be to rename what is right.</summary>
    private static TableSchema? OtherTable(TableSchema schema, IReadOnlyList<string> columns) =>
        HasAll(schema, columns) ? null : SchemaCatalogue.Tables.FirstOrDefault(other => other != schema && HasAll(other, columns));

    /// <summary>
    /// What the first row is if it is no header; <see langword="null"/> where it is one. Column by column the advice would be to take out
    /// all that is there. Names that are close to ours are a header with faults, and each is told.
    /// </summary>
    private static string? WhyNone(TableSchema schema, IReadOnlyList<string> columns) =>
        columns.Any(name => schema.FindOrdinal(name) >= 0) ? null
        : columns.Any(IsValue) ? "data, not the names of columns, in the first row"
        : columns.Any(name => Nearest.Of(name, schema.ColumnNames) is not null) ? null
        : "no name of a column in the first row";

    private static bool IsValue(string cell) => cell.Length is > 0 and <= LongestNumber
        && (double.TryParse(cell, NumberStyles.Float, CultureInfo.InvariantCulture, out _)
            || DateOnly.TryParseExact(cell, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out _));

    private static bool HasAll(TableSchema table, IReadOnlyList<string> columns) =>
        table.Fields.Where(f => f.Required).All(f => columns.Contains(f.Name, StringComparer.Ordinal));
}
