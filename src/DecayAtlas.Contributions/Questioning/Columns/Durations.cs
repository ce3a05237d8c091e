namespace DecayAtlas.Contributions.Questioning.Columns;

/// <summary>The days that a duration in hours, weeks, months or years makes, whether its column says the unit or each of its cells. A month
/// is no number of days, so that how months are counted is asked.</summary>
internal sealed class Durations(AskedTable table, AskedColumn column)
{
    private const string Question = "months", Calendar = "calendar", Mean = "mean";

    private const int MostDays = 3660;

    private readonly NumberForm _form = NumberForm.Of(column)[0];

    /// <summary>Of a table whose durations are in months or years; where nobody can say how long those are, it has none.</summary>
    public static void Ask(AskedTable table)
    {
        if (table.Of(ColumnChoice.Days) is not { Filled: > 0 } column || AreInWords(column))
            return;
        // what is no number says no days: the day of digging up is asked
        if (!column.IsNumbers)
        {
            if (ColumnChoice.IsOfBags(table))
                table.Chosen.Remove((ColumnChoice.Days, null));
            return;
        }
        Durations durations = new(table, column);
        int[] rows = durations.InMonths();
        if (rows.Length == 0)
            return;
        // 2024 is a year, and no duration
        if (Array.Exists(rows, row => durations._form.Read(column, row) * durations.MonthsOf(row) * TimeUnits.DaysOfMonth > MostDays))
        {
            table.Chosen.Remove((ColumnChoice.Days, null));
            return;
        }
        Interview ask = table.Ask;
        if (ask.Choose(Interview.Values, Question, [ask.Option(Calendar, "months-calendar"), ask.Option(Mean, "months-mean"),
            ask.Option("none", "months-none")], Calendar, column.Seen(), column.Name) == "none")
        {
            table.Chosen.Remove((ColumnChoice.Days, null));
        }
    }

    /// <summary>Whether its durations are said in several units each, or without one where others are.</summary>
    public static bool AreInWords(AskedColumn column) => column.Distinct.Any(text => TimeUnits.DaysInWords(text) is not null)
        && column.Distinct.All(text => TimeUnits.DaysInWords(text) is not null || StateWords.IsNoValue(text)
            || (WrittenNumber.Of(text) is not null && (TimeUnits.AreDays(text) || TimeUnits.ExactDaysOf(text) is not null)));

    /// <summary>Whether its numbers are days as they stand.</summary>
    public bool AreDays => column.Sense is { DaysEach: 1, MonthsEach: null }
        && column.Distinct.All(text => (TimeUnits.MonthsOf(text) ?? TimeUnits.ExactDaysOf(text)) is null);

    /// <param name="buried">Months by the calendar are counted from it.</param>
    /// <returns>Null where no number stands, or where it is not known how long its months are.</returns>
    public double? DaysAt(int row, DateOnly? buried)
    {
        if (TimeUnits.DaysInWords(column.TextAt(row)) is { } said)
            return said;
        if (_form.Read(column, row) is not { } count)
            return null;
        if (MonthsOf(row) is not { } each)
            return count * (TimeUnits.AreDays(column.TextAt(row)) ? 1 : TimeUnits.ExactDaysOf(column.TextAt(row)) ?? column.Sense.DaysEach);
        double months = count * each;
        return table.Ask.AnswerTo(Question) switch
        {
            Mean => months * TimeUnits.DaysOfMonth,
            Calendar when buried is { } from && months is >= 0 and <= MostDays => from.AddMonths((int)months).DayNumber - from.DayNumber
                + (months - Math.Floor(months)) * TimeUnits.DaysOfMonth,
            _ => null,
        };
    }

    private int[] InMonths() => [.. Enumerable.Range(0, column.Cells.Count).Where(row => MonthsOf(row) is not null
        && _form.Read(column, row) is not null)];

    // what stands in the cell goes before the name of its column
    private int? MonthsOf(int row) => TimeUnits.MonthsOf(column.TextAt(row))
        ?? (TimeUnits.ExactDaysOf(column.TextAt(row)) is null && !TimeUnits.AreDays(column.TextAt(row)) ? column.Sense.MonthsEach : null);
}
