using System.Globalization;

namespace DecayAtlas.Contributions.Understanding;

/// <summary>A cell of a column of days, and the days that it can be.</summary>
/// <param name="Typed">The day that a spreadsheet holds; null for a text.</param>
/// <param name="Written">The parts of a text; null where it is none that is understood.</param>
internal sealed record DayReading(AskedColumn Column, int Row, bool IsBurial, DateOnly? Typed, WrittenDay? Written)
{
    public string Text => Column.TextAt(Row);

    /// <summary>In numbers, so that its order has to be known.</summary>
    public bool HasOrder => Written is { IsNamed: false, IsYearFirst: false };

    public bool CanBe(bool isDayFirst) => Written is { } day && (isDayFirst ? day.Second is >= 1 and <= 12 && day.First is >= 1 and <= 31
        : day.First is >= 1 and <= 12 && day.Second is >= 1 and <= 31);

    public static DayReading Of(AskedColumn column, int row, bool isBurial)
    {
        TidyCell cell = column.Cells[row];
        string text = AskedColumn.TextOf(cell);
        if (column.Sense.Has(Concept.DayOfYear) && IsDayOfYear(text))
        {
            return new(column, row, isBurial, null,
                new WrittenDay(int.Parse(text, CultureInfo.InvariantCulture), 0, null, true, false, false));
        }
        return cell.Value.Kind switch
        {
            SheetCellKind.Date => new(column, row, isBurial, Iso(text), null),
            SheetCellKind.Number => new(column, row, isBurial, SheetValue.DayOf(text, false) is { } day ? Iso(day) : null, null),
            _ when IsSerial(text) && SheetValue.DayOf(text, false) is { } day => new(column, row, isBurial, Iso(day), null),
            _ => new(column, row, isBurial, null, MonthNames.Read(text)),
        };
    }

    /// <summary>The number of a day in its year; what says that it is one is the name of its column.</summary>
    public static bool IsDayOfYear(string text) => int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int day)
        && day is >= 1 and <= 366;

    /// <summary>Written as the number of a day in its year.</summary>
    public bool IsOfYear => Written is { Second: 0, IsNamed: true };

    /// <summary>The number of a day as spreadsheets count them, which a table of text keeps of a day.</summary>
    public static bool IsSerial(string text) => text.Length == 5 && text.All(char.IsAsciiDigit) && text[0] is '3' or '4' or '5';

    /// <summary>The day of a cell that can only be one.</summary>
    public static DateOnly? Certain(TidyCell cell)
    {
        string text = AskedColumn.TextOf(cell);
        if (cell.Value.Kind == SheetCellKind.Date)
            return Iso(text);
        return MonthNames.Read(text) is { Year: { } year, IsShortYear: false } day && (day.IsNamed || day.IsYearFirst)
            ? Made(year, day.Second, day.First) : null;
    }

    /// <summary>The day by an order and, where none or a short one is written, a year.</summary>
    public DateOnly? Day(bool isDayFirst, int? year, int century)
    {
        if (Typed is not null || Written is not { } day)
            return Typed;
        int? whole = day.Year is null ? year : day.IsShortYear ? century + day.Year : day.Year;
        if (whole is not { } y)
            return null;
        if (IsOfYear)
            return day.First <= (DateTime.IsLeapYear(y) ? 366 : 365) ? new DateOnly(y, 1, 1).AddDays(day.First - 1) : null;
        return day.IsNamed || day.IsYearFirst || isDayFirst ? Made(y, day.Second, day.First) : Made(y, day.First, day.Second);
    }

    public static DateOnly? Turned(DateOnly day) => day.Day <= 12 ? new DateOnly(day.Year, day.Day, day.Month) : null;

    public static DateOnly? Made(int year, int month, int day) => year is >= 1900 and <= 2100 && month is >= 1 and <= 12 && day >= 1
        && day <= DateTime.DaysInMonth(year, month) ? new DateOnly(year, month, day) : null;

    private static DateOnly? Iso(string text) =>
        DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day) ? day : null;
}
