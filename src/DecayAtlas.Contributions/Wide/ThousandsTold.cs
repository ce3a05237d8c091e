namespace DecayAtlas.Contributions.Wide;

/// <summary>Numbers in which a point or comma was taken for a sign between thousands: a guess that moves a mass by a thousand, told with
/// what was read.</summary>
internal static class ThousandsTold
{
    private const int MostNamed = 3;

    public static IEnumerable<Finding> Of(WideTable wide, TableSources table) =>
        table.Sources.SelectMany(source => source.WithOthers).Where(source => source is { Column: not null, Thousands: '.' or ',' })
            .Select(source => Of(wide, source)).OfType<Finding>();

    private static Finding? Of(WideTable wide, FieldSource source)
    {
        string column = source.Column!.Trim();
        (string Typed, string Read, int Row)[] read =
        [
            .. wide.Rows.Select(row => (Cell: wide.Cell(row, column), row.Row))
                .Where(one => one.Cell.Kind == SheetCellKind.Text && one.Cell.Text.Contains(source.Thousands, StringComparison.Ordinal))
                .Select(one => (one.Cell.Text.Trim(), Read: ReadAs(source, one.Cell.Text), one.Row))
                .Where(one => one.Read is not null).Select(one => (one.Item1, one.Read!, one.Row)).DistinctBy(one => one.Item1),
        ];
        if (read.Length == 0)
            return null;
        (string Typed, string Read, int Row)[] named = [.. read.Take(MostNamed)];
        string more = read.Length > MostNamed ? ", …" : "", unit = source.Unit is "mg" or "g" or "kg" ? " " + source.Unit : "";
        return wide.Place(new Finding(FindingCode.ThousandsRead,
            $"numbers with a sign between thousands, as {string.Join(", ", named.Select(one => FindingText.Quote(one.Typed)))}{more}",
            $"read as {string.Join("; ", named.Select(one => one.Read + unit))}{(more.Length > 0 ? "; …" : "")}",
            "nothing is to be done if that is right; else mend the column"), read[0].Row, wide.OrdinalOf[column]) with
        { Column = column };
    }

    private static string? ReadAs(FieldSource source, string text)
    {
        string plain = text.Trim().Replace('\u2212', '-');
        string? digits = source.IsWritten ? WrittenNumber.Of(plain)?.Digits : plain;
        return digits is not null && digits.Contains(source.Thousands, StringComparison.Ordinal)
            ? WrittenNumber.Plain(digits, source.DecimalSign ?? (source.Thousands == '.' ? ',' : '.'), source.Thousands) : null;
    }
}
