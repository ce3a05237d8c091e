namespace DecayAtlas.Contributions.Questioning.Columns;

/// <summary>Masses whose columns are named by the day on which they were weighed: the earlier of two days is that before burial.</summary>
internal static class DatedMasses
{
    /// <summary>The columns with what they are, where there are two days in one order whichever of day and month is first.</summary>
    public static IReadOnlyList<(AskedColumn Column, string Field, string Day)> In(AskedTable table)
    {
        (AskedColumn Column, string Day)[] dated =
        [
            .. table.Columns.Where(column => column.IsNumbers && !column.IsHidden && !column.Sense.HasAny(Concept.First, Concept.Last,
                    Concept.Tare, Concept.Loss, Concept.Remaining, Concept.Mean, Concept.Sd)
                && (column.Sense.Has(Concept.Mass) || Units.InGrams(column.Sense.Unit) is not null))
                .Select(column => (column, Days: LineFacts.DaysIn(column.Name))).Where(entry => entry.Days.Length == 1)
                .Select(entry => (entry.column, entry.Days[0])),
        ];
        string[] days = [.. dated.Select(entry => entry.Day).Distinct()];
        if (days.Length != 2 || table.Columns.Any(column => column.Sense.HasAny(Concept.First, Concept.Last) && column.IsNumbers))
            return [];
        int byDay = Order(true), byMonth = Order(false);
        // where the order of day and month decides, it is the day on which more was weighed
        int order = byDay == byMonth ? byDay : Math.Sign(Heavier(days[1]) - Heavier(days[0]));
        if (order == 0)
            return [];
        string first = order < 0 ? days[0] : days[1];
        return [.. dated.Select(entry => (entry.Column, entry.Day == first ? ColumnChoice.Initial : ColumnChoice.Final, entry.Day))];

        // in how many cells more was weighed than on the other day
        int Heavier(string day) => dated.Where(entry => entry.Day == day).Sum(entry => dated
            .Where(other => other.Day != day && other.Column.Sense.Role == entry.Column.Sense.Role)
            .Sum(other => Numbers(entry.Column).Zip(Numbers(other.Column)).Count(two => two.First > two.Second)));

        double?[] Numbers(AskedColumn column)
        {
            NumberForm form = NumberForm.Of(column)[0];
            return [.. Enumerable.Range(0, table.Rows.Count).Select(row => form.Read(column, row))];
        }

        // where one of them can be read in one order only, that is the order of both
        int Order(bool isDayFirst)
        {
            if ((Of(days[0], isDayFirst), Of(days[1], isDayFirst)) is not ({ } one, { } other))
                return (Of(days[0], !isDayFirst), Of(days[1], !isDayFirst)) is ({ } a, { } b) ? a.CompareTo(b) : 0;
            return one.CompareTo(other);
        }

        DateOnly? Of(string day, bool isDayFirst) => new DayReading(table.Columns[0], 0, true, null, MonthNames.Read(day))
            .Day(isDayFirst, null, 2000);
    }

    /// <summary>A bag is not buried on the day of its weighing unless somebody says so.</summary>
    public static void Ask(AskedTable table, IReadOnlyList<(AskedColumn Column, string Field, string Day)> dated)
    {
        if (dated.Count == 0 || table.Chosen.Keys.Any(key => key.Field is ColumnChoice.Buried or ColumnChoice.Retrieved)
            || table.Ask.Choose(Interview.Columns, "weighing-days", [table.Ask.Option("yes", "weighing-days-yes"),
                table.Ask.Option("no", "weighing-days-no")], null, [.. dated.Select(one => new SeenCell(one.Column.Header.Place.Sheet,
                    one.Column.Header.Place.Row, null, null, one.Column.Name))]) != "yes")
        {
            return;
        }
        foreach ((string field, string days) in new[] { (ColumnChoice.Initial, ColumnChoice.Buried), (ColumnChoice.Final,
            ColumnChoice.Retrieved) })
        {
            (AskedColumn column, _, string day) = dated.First(one => one.Field == field);
            TidyCell said = new(SheetCell.OfText(day), column.Header.Place, null);
            table.StatedDays[days] = AskedColumn.OfLines(ColumnChoice.NameOf(days, null, table.Ask.Words),
                [.. Enumerable.Repeat(said, table.Rows.Count)]);
        }
    }
}
