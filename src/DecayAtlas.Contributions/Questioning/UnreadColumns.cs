namespace DecayAtlas.Contributions.Questioning;

/// <summary>Tells by name what was filled in and is not read, whether it was understood or not.</summary>
internal sealed class UnreadColumns(AskedTable table)
{
    public void Tell()
    {
        HashSet<string> used = table.Draft.UsedColumns();
        string[] unread = [.. table.Columns.Where(column => column.Filled > 0 && !used.Contains(column.Name.Trim()) && !IsOurs(column))
            .Select(column => column.Name)];
        table.Ask.Tell("columns-not-read", unread.Length, [], string.Join(", ",
            unread.Select(name => ReceivedText.OneLine(ReceivedText.Masked(name)))));
    }

    // columns that the sender did not write: colours, notes on cells, the titles and sheets of rows
    private static bool IsOurs(AskedColumn column) => column.Name is BlockJoiner.TitleColumn or BlockJoiner.SheetColumn
        || column.Name.StartsWith(RowLooks.ColourColumn, StringComparison.Ordinal)
        || column.Name.StartsWith(RowLooks.CommentColumn, StringComparison.Ordinal);
}
