namespace DecayAtlas.Contributions.Questioning;

/// <summary>Tells by name what was filled in and is not read, whether it was understood or not.</summary>
internal sealed class UnreadColumns(AskedTable table)
{
    public void Tell()
    {
        HashSet<string> used = table.Draft.UsedColumns();
        Masses(used);
        string[] unread = [.. table.Columns.Where(column => column.Filled > 0 && !used.Contains(column.Name.Trim()) && !IsOurs(column)
            && !table.ReadByRow.Contains(column.Ordinal) && !IsOpen(column)).Select(column => column.Name)];
        table.Ask.Tell("columns-not-read", unread.Length, [], string.Join(", ",
            unread.Select(name => ReceivedText.OneLine(ReceivedText.Masked(name)))));
    }

    // a column that a question is about may still be read
    private bool IsOpen(AskedColumn column) => table.Ask.Open.Any(question =>
        question.Id.EndsWith(":" + column.Name, StringComparison.Ordinal) || question.Choices.Any(choice => choice.Value == column.Name));

    // a mass that was understood and is not needed: only the sender knows whether it is one to do without
    private void Masses(HashSet<string> used)
    {
        foreach (AskedColumn mass in table.Columns.Where(column => column.Filled > 0 && table.Masses.Contains(column.Ordinal)
            && !table.Offered.Contains(column.Ordinal) && !table.ReadByRow.Contains(column.Ordinal) && !used.Contains(column.Name.Trim())))
        {
            if (table.Ask.Choose(Interview.Last, "mass-unread:" + mass.Name, [table.Ask.Option("leave", "mass-unread-leave"),
                table.Ask.Option("needed", "mass-unread-needed")], null, mass.Seen(), mass.Name) == "needed")
            {
                table.IsHopeless = "mass-unread";
            }
        }
    }

    // columns that the sender did not write: colours, notes on cells, the titles and sheets of rows
    private static bool IsOurs(AskedColumn column) => column.Name is BlockJoiner.TitleColumn or BlockJoiner.SheetColumn
        || RowLooks.IsMade(column.Name);
}
