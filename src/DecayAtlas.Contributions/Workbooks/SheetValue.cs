using System.Globalization;

namespace DecayAtlas.Contributions.Workbooks;

/// <summary>
/// Turns a typed cell into the text that the same value has in a data package, so that one set of checks judges both. A cell
/// of the wrong type is told, not turned: a spreadsheet makes dates of ids like 1-2, and a date in a column of masses is no mass.
/// </summary>
internal static class SheetValue
{
    // Day numbers from 1954 to 2119; a plain number outside is more likely a year or a date without hyphens.
    private const int FirstSerial = 20_000, LastSerial = 80_000;

    // Days from serial 0 of the 1904 system (1904-01-01) to serial 0 of the 1900 system (1899-12-30, which makes all days from 1900-03-01
    // right).
    private const int DaysBetweenSystems = 1462;

    public static (string Text, Finding? Fault) Of(FieldSchema field, SheetCell cell, bool isDate1904)
    {
        if (cell.Fault(field) is { } fault)
            return ("", fault);
        return (cell.Kind, field.Type) switch
        {
            (SheetCellKind.Number, FieldType.Date) => DayOf(cell.Text, isDate1904) is { } day
                ? (day, null)
                : ("", Wrong(field, $"the number {cell.Text}", "write the date again and set the format of the cell to a date")),
            (SheetCellKind.Number, FieldType.YesNo) => ("", Wrong(field, $"the number {cell.Text}", "write yes or no")),
            (SheetCellKind.Date, not FieldType.Date) => ("", Wrong(field, $"the date {cell.Text}",
                "set the format of the cell to plain text or number and write the value again; the spreadsheet took it for a date")),
            (SheetCellKind.YesNo,
                not FieldType.YesNo) => ("", Wrong(field, cell.Text == "yes" ? "TRUE" : "FALSE", "write the value as text or number")),
            _ => (cell.Text, null),
        };
    }

    /// <summary>The day of a spreadsheet's day number as YYYY-MM-DD, or null where it cannot be a day of this schema.</summary>
    public static string? DayOf(string serial, bool isDate1904)
    {
        if (!double.TryParse(serial, NumberStyles.Float, CultureInfo.InvariantCulture, out double number))
            return null;
        double since1900 = Math.Floor(number) + (isDate1904 ? DaysBetweenSystems : 0);
        return since1900 is >= FirstSerial and <= LastSerial
            ? new DateOnly(1899, 12, 30).AddDays((int)since1900).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)
            : null;
    }

    private static Finding Wrong(FieldSchema field, string found, string mend) =>
        field.Fault(FindingCode.CellTypeWrong, found, CellCheck.Expected(field), mend);
}
