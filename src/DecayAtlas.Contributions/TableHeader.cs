namespace DecayAtlas.Contributions;

/// <summary>The header of a table's file, matched with the schema.</summary>
/// <param name="OrdinalOfColumn">For each column of the file, the ordinal of its field, or -1.</param>
/// <param name="IsComplete">All required columns are there and none is unknown or repeated.</param>
internal sealed record TableHeader(int[] OrdinalOfColumn, bool IsComplete)
{
    /// <summary>Matches the header of a CSV file.</summary>
    public static TableHeader Match(TableSchema schema, string file, IReadOnlyList<string> columns, FindingList findings) =>
        Match(schema, columns, findings, (finding, _) => finding with { File = file, Row = 1 });

    /// <summary>Matches a header.</summary>
    /// <param name="locate">Gives a finding its place; column -1 stands for the header as a whole.</param>
    public static TableHeader Match(TableSchema schema, IReadOnlyList<string> columns, FindingList findings, Func<Finding, int, Finding> locate)
    {
        if (OtherTable(schema, columns) is { } other)
        {
            findings.Add(locate(new Finding(FindingCode.TableOther, "", null, null, $"the columns of the table {other.Name}", $"the columns of the table {schema.Name}",
                $"put the table {schema.Name} here; it may lie where {other.Name} is expected, then exchange the two"), -1));
            return new TableHeader([.. columns.Select(_ => -1)], false);
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
                findings.Add(locate(new Finding(FindingCode.ColumnRepeated, "", null, columns[i], "the column a second time", "each column once", "take one of the two out"), i));
                ordinals[i] = -1;
            }
            else if (ordinals[i] < 0 && columns[i].Length <= FieldSchema.LongestOfAll)
            {
                string? meant = Nearest.Of(columns[i], absent);
                string found = columns[i].Length == 0 ? FormattableString.Invariant($"column {i + 1} without a name") : $"an unknown column {FindingText.Quote(columns[i])}";
                findings.Add(locate(new Finding(FindingCode.ColumnExtra, "", null, columns[i].Length == 0 ? null : columns[i], found,
                    meant ?? $"only columns of the table {schema.Name}",
                    meant is null ? "take the column out; remarks go into notes" : $"rename it to {meant}"), i));
                if (meant is not null)
                    absent.Remove(meant);
            }
        }
        foreach (string name in absent.Where(name => schema.Fields[schema.OrdinalOf(name)].Required))
            findings.Add(locate(new Finding(FindingCode.ColumnMissing, "", null, name, "no such column", $"the required column {name}", "add the column and fill it in"), -1));
        return new TableHeader(ordinals, findings.Count == before);
    }

    /// <summary>The table whose columns these are, where they are not of this one: said as a whole, since column by column the advice would be to rename what is right.</summary>
    private static TableSchema? OtherTable(TableSchema schema, IReadOnlyList<string> columns) =>
        HasAll(schema, columns) ? null : SchemaCatalogue.Tables.FirstOrDefault(other => other != schema && HasAll(other, columns));

    private static bool HasAll(TableSchema table, IReadOnlyList<string> columns) =>
        table.Fields.Where(f => f.Required).All(f => columns.Contains(f.Name, StringComparer.Ordinal));
}
