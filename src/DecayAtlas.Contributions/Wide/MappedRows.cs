namespace DecayAtlas.Contributions.Wide;

/// <summary>Puts the records of one table together from the rows of a wide table.</summary>
internal sealed class MappedRows(WideTable wide, Mapping mapping, TableSources table, FindingList findings)
{
    /// <summary>A site or a lot that stands in several rows is one record; a bag or a sample is one record a row.</summary>
    public IEnumerable<MappedRow> Records()
    {
        IEnumerable<MappedRow> all = wide.Rows.Where(IsThere).Select(Row);
        return table.Schema.Name is "sites" or "lots" ? Merged(all) : all;
    }

    /// <summary>
    /// Whether a row has this record at all. A row without anything in the columns of a sample has no sample, and a burial
    /// without anything in the columns of one bag alone does not have that bag; nothing is lost by leaving it out.
    /// </summary>
    private bool IsThere(SheetRow row)
    {
        FieldSource[] telling = [.. table.Sources.Where(source => source.Column is not null
            && (table.Schema.Name == "samples" ? source.Field.Name != "bag_id" : source.IsOwn))];
        return telling.Length == 0 || telling.Any(source => wide.Cell(row, source.Column!.Trim()).Kind != SheetCellKind.Empty);
    }

    private MappedRow Row(SheetRow row)
    {
        findings.Time.Ask();
        return new MappedRow(row.Row, [.. table.Sources.Select(source => Value(source, row))]);
    }

    private MappedValue Value(FieldSource source, SheetRow row)
    {
        if (source.Value is { } fixedValue)
            return new MappedValue(fixedValue, null, fixedValue, row.Row, -1);
        if (source.Pattern is { } pattern)
        {
            const int longest = FieldSchema.LongestOfAll;
            (string filled, long length) =
                RowPattern.Fill(pattern, longest, column => wide.Cell(row, column.Trim()).Text.AsMemory().Trim());
            return new MappedValue(filled, length > longest ? CellCheck.TooLong(source.Field.Name, length, longest) : null, pattern,
                row.Row, -1);
        }
        string column = source.Column!.Trim();
        SheetCell cell = wide.Cell(row, column);
        (string text, Finding? fault) = ColumnValue.Of(source, cell, mapping.Form, wide.IsDate1904);
        return new MappedValue(text, fault, cell.Text, row.Row, wide.OrdinalOf[column]);
    }

    private List<MappedRow> Merged(IEnumerable<MappedRow> rows)
    {
        int key = -1;
        for (int i = 0; i < table.Sources.Count; i++)
        {
            if (table.Sources[i].Field.Unique)
                key = i;
        }
        Dictionary<string, MappedRow> byId = new(StringComparer.Ordinal);
        List<MappedRow> inOrder = [];
        foreach (MappedRow row in rows)
        {
            // A row without an id is told where its bag is told to have none.
            if (row.Values[key].Text.Length == 0 && row.Values[key].Fault is null)
                continue;
            if (byId.TryAdd(row.Values[key].Text, row))
                inOrder.Add(row);
            else
                Merge(byId[row.Values[key].Text], row);
        }
        return inOrder;
    }

    /// <summary>An empty cell takes no stand; a cell that says otherwise than an earlier row is told.</summary>
    private void Merge(MappedRow first, MappedRow next)
    {
        for (int i = 0; i < table.Sources.Count; i++)
        {
            MappedValue earlier = first.Values[i], later = next.Values[i];
            if (later.Fault is { } fault)
            {
                findings.Add(new MappedCells(wide, mapping, table, next).Locate(fault, i));
            }
            else if (later.Text.Length == 0 || later.Text == earlier.Text || earlier.Fault is not null)
            {
                continue;
            }
            else if (earlier.Text.Length == 0)
            {
                first.Values[i] = later;
            }
            else
            {
                findings.Add(new MappedCells(wide, mapping, table,
                    next).Locate(new Finding(FindingCode.RowsDisagree, "", null, null, FindingText.Quote(later.Original),
                    FormattableString.Invariant($"{FindingText.Quote(earlier.Original)}, as row {earlier.Row} says of the same ")
                    + FormattableString.Invariant($"{table.Schema.Name[..^1]}"),
                    "correct one of the two rows, or give the two different ids"), i));
            }
        }
    }
}
