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

    // whether each place of one has one name in the other
    private static bool Agree(AskedColumn one, AskedColumn other, AskedTable table) => Enumerable.Range(0, table.Rows.Count)
        .GroupBy(one.TextAt).All(rows => rows.Select(other.TextAt).Distinct().Count() == 1);
}
