using System.Globalization;
using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Understanding;

/// <summary>How the numbers of a column are written.</summary>
/// <param name="DecimalSign">'.' or ','; '\0' where both stand in the column.</param>
/// <param name="Thousands">The sign between thousands; '\0' for none.</param>
/// <param name="IsWritten">Some cells have a unit or words beside the number.</param>
internal sealed record NumberForm(char DecimalSign, char Thousands, bool IsWritten)
{
    public double? Read(AskedColumn column, int row)
    {
        if (column.TypedNumber(row) is { } typed)
            return typed;
        return WrittenNumber.Of(column.TextAt(row)) is { } written && WrittenNumber.Plain(written.Digits, DecimalSign,
            Thousands) is { } plain
            ? double.Parse(plain, NumberStyles.Float, CultureInfo.InvariantCulture) : null;
    }

    /// <summary>The keys of a source for cells that are text.</summary>
    public void WriteInto(JsonObject source, AskedColumn column)
    {
        if (!column.Cells.Any(cell => cell.Value.Kind == SheetCellKind.Text))
            return;
        source["decimal_sign"] = DecimalSign switch { ',' => "comma", '.' => "point", _ => "either" };
        if (Thousands != '\0')
            source["thousands"] = Thousands switch { ',' => "comma", '.' => "point", '\'' => "apostrophe", _ => "space" };
        if (IsWritten)
            source["as_written"] = true;
    }

    /// <summary>The ways in which the numbers of a column can be read: one where the signs say it, two where a sign may part thousands or
    /// decimals.</summary>
    public static IReadOnlyList<NumberForm> Of(AskedColumn column)
    {
        int decimalPoint = 0, decimalComma = 0, openPoint = 0, openComma = 0;
        char thousands = '\0';
        bool isWritten = false;
        for (int i = 0; i < column.Cells.Count; i++)
        {
            if (column.Cells[i].Value.Kind != SheetCellKind.Text || WrittenNumber.Of(column.TextAt(i)) is not { } written)
                continue;
            isWritten |= written.Unit is not null || written.Beside.Length > 0;
            string digits = written.Digits;
            int points = digits.Count(c => c == '.'), commas = digits.Count(c => c == ',');
            if (digits.AsSpan().IndexOfAny("'’\u00A0\u202F ") >= 0)
                thousands = digits.AsSpan().IndexOfAny("'’") >= 0 ? '\'' : ' ';
            if (points > 0 && commas > 0)
            {
                bool isCommaLast = digits.LastIndexOf(',') > digits.LastIndexOf('.');
                (decimalComma, decimalPoint) = isCommaLast ? (decimalComma + 1, decimalPoint) : (decimalComma, decimalPoint + 1);
                thousands = isCommaLast ? '.' : ',';
            }
            else if (points + commas == 1)
            {
                int at = digits.IndexOfAny(['.', ',']);
                int before = digits[..at].TrimStart('-', '+').Length;
                bool isOpen = digits.Length - at - 1 == 3 && before is >= 1 and <= 3 && digits.TrimStart('-', '+')[0] != '0'
                    && thousands is '\0' or '.' or ',';
                if (isOpen)
                    (openPoint, openComma) = (openPoint + points, openComma + commas);
                else
                    (decimalPoint, decimalComma) = (decimalPoint + points, decimalComma + commas);
            }
            else if (points + commas > 1)
            {
                thousands = points > 0 ? '.' : ',';
            }
        }
        if (decimalPoint > 0 && decimalComma > 0 && thousands == '\0')
            return [new NumberForm('\0', '\0', isWritten)];
        if (thousands is '.' || (decimalComma > 0 && openPoint > 0))
            return [new NumberForm(',', '.', isWritten)];
        if (thousands is ',' || (decimalPoint > 0 && openComma > 0))
            return [new NumberForm('.', ',', isWritten)];
        if (decimalPoint > 0)
            return [new NumberForm('.', thousands, isWritten)];
        if (decimalComma > 0)
            return [new NumberForm(',', thousands, isWritten)];
        if (openPoint > 0 && openComma > 0)
            return [new NumberForm('\0', '\0', isWritten), new NumberForm('.', ',', isWritten), new NumberForm(',', '.', isWritten)];
        if (openPoint > 0)
            return [new NumberForm('.', '\0', isWritten), new NumberForm(',', '.', isWritten)];
        return openComma > 0 ? [new NumberForm(',', '\0', isWritten), new NumberForm('.', ',', isWritten)]
            : [new NumberForm('.', thousands, isWritten)];
    }
}
