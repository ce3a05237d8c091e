namespace DecayAtlas.Contributions.Questioning.Columns;

/// <summary>Several columns that name places: the id, and beside it a title.</summary>
internal static class SiteColumns
{
    /// <summary>The column that names places best: of two that say the same the shorter one, and the other is kept as a note; where they
    /// say different things it is asked. Null where it is left open.</summary>
    public static AskedColumn? Named(AskedColumn[] columns, AskedTable table)
    {
        AskedColumn[] whole = [.. columns.Where(column => column.Filled == table.Rows.Count && !column.IsDates)];
        if (whole.Length < 2)
            return whole.FirstOrDefault();
        AskedColumn id = whole.OrderBy(column => column.Sense.HasAny(Concept.Number) ? 0 : 1)
            .ThenBy(column => column.Distinct.Average(text => text.Length)).First();
        AskedColumn[] titles = [.. whole.Where(column => column != id)];
        if (Array.TrueForAll(titles, title => Agree(id, title, table) && Agree(title, id, table)))
        {
            if (titles.FirstOrDefault(title => title.IsWords) is { } title)
            {
                table.Draft.Sites["notes"] = MappingDraft.Column(title);
                table.Ask.Tell("place-title", title.Distinct.Count, title.Seen(), title.Name, id.Name);
            }
            return id;
        }
        // a farm with several fields, or one field under two names
        string? answer = ColumnChoice.AskColumn(table, ColumnChoice.Site, null, whole, mayLack: false);
        return Array.Find(whole, column => column.Name == answer);
    }

    private const string PlaceColumn = "place-column";

    // more kinds than people have fields
    private const int MostKinds = 8;

    /// <summary>Whether it is still asked which column names places, on which all else of places hangs.</summary>
    public static bool IsAsked(AskedTable table) => table.Ask.Open.Any(open =>
        open.Id.StartsWith(PlaceColumn + ":", StringComparison.Ordinal));

    /// <summary>Where no column names places, and a column of texts parts the rows into a few kinds, these may be two fields of a farm:
    /// they are never pooled unasked.</summary>
    public static void Ask(AskedTable table)
    {
        if (table.Of(ColumnChoice.Site) is not null || (table.Of(ColumnChoice.Position) ?? table.Of(ColumnChoice.Latitude)
            ?? table.Of(ColumnChoice.Northing)) is not null
            // what may still be the column of something else is asked first
            || table.Ask.Open.Any(open => open.Id.Split(':')[0] is "column" or "fast-of" or "masses"))
        {
            return;
        }
        foreach (AskedColumn column in table.Columns.Where(column => MayBePlaces(column, table))
            .OrderBy(column => column.Sense.Has(Concept.Plot) ? 0 : 1).ToArray())
        {
            string? answer = table.Ask.Choose(Interview.Columns, $"{PlaceColumn}:{column.Name}",
                [table.Ask.Option("place", "place-column-place"), table.Ask.Option("plot", "place-column-plot"),
                    table.Ask.Option("neither", "place-column-neither")], null, column.Seen(), column.Name,
                string.Join(", ", column.Distinct.Select(text => ReceivedText.OneLine(ReceivedText.Masked(text)))));
            if (answer is null)
                return;
            foreach ((string, LitterRole?) key in table.Chosen.Where(entry => entry.Value == column).Select(entry => entry.Key).ToArray())
                table.Chosen.Remove(key);
            if (answer == "place")
            {
                table.Chosen[(ColumnChoice.Site, null)] = column;
                return;
            }
            if (answer == "plot")
                table.Chosen[(ColumnChoice.Plot, null)] = column;
        }
    }

    // filled in every row, of fewer kinds than rows, and understood as nothing but a plot
    private static bool MayBePlaces(AskedColumn column, AskedTable table) => column.IsWords && !column.IsHidden
        && column.Filled == table.Rows.Count && column.Distinct.Count is > 1 and <= MostKinds
        && 2 * column.Distinct.Count <= table.Rows.Count
        && !column.Sense.HasAny(Concept.Person, Concept.Condition, Concept.Notes, Concept.Unit, Concept.Soil, Concept.Litter)
        && !RowLooks.IsMade(column.Name) && column.Distinct.Any(text => !StateWords.IsNothing(text) && StateWords.YesOrNo(text) is null)
        && table.Chosen.Where(entry => entry.Value == column).All(entry => entry.Key.Field == ColumnChoice.Plot);

    // whether each place of one has one name in the other
    private static bool Agree(AskedColumn one, AskedColumn other, AskedTable table) => Enumerable.Range(0, table.Rows.Count)
        .GroupBy(one.TextAt).All(rows => rows.Select(other.TextAt).Distinct().Count() == 1);
}
