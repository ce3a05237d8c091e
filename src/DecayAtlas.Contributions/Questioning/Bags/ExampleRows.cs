namespace DecayAtlas.Contributions.Questioning.Bags;

/// <summary>Rows that show how a table is filled in, or try it out: what says so plainly is left out and told, a word that may be one of
/// the trade is asked about.</summary>
internal sealed class ExampleRows(AskedTable table)
{
    private readonly Interview _ask = table.Ask;

    public void Make()
    {
        AskedColumn[] names = [.. new[] { ColumnChoice.Burial, ColumnChoice.Bag, ColumnChoice.Number, ColumnChoice.Replicate,
            ColumnChoice.Plot, ColumnChoice.Site }.SelectMany(field => table.Roles.Select(role => table.Of(field, role)))
            .OfType<AskedColumn>().Distinct()];
        AskedColumn[] said = [.. table.Remarks.Concat(names).Concat(table.Columns.Where(column => column.IsWords
            && !table.Chosen.ContainsValue(column))).Distinct()];
        HashSet<int> plain = [], maybe = [];
        foreach (AskedColumn column in said)
        {
            foreach (string text in column.Distinct.Where(text => ExampleWords.Mark(text) != ExampleMark.None))
            {
                int[] rows = [.. Enumerable.Range(0, table.Rows.Count).Where(row => column.TextAt(row) == text)];
                (ExampleWords.Mark(text) == ExampleMark.Plain ? plain : maybe).UnionWith(rows);
            }
        }
        // a word that most rows bear is one of the trade
        if (maybe.Count * 2 > table.Rows.Count)
            maybe.Clear();
        if (plain.Count * 2 > table.Rows.Count)
        {
            maybe.UnionWith(plain);
            plain.Clear();
        }
        foreach (HashSet<int> rows in new[] { plain, maybe })
            rows.UnionWith(Others(rows));
        maybe.ExceptWith(plain);
        if (maybe.Count > 0 && maybe.Count < table.Rows.Count)
        {
            SeenCell[] seen = [.. maybe.Order().Select(table.SeenRow)];
            if (_ask.Choose(Interview.Columns, "example-rows", [_ask.Option("leave", "example-leave"), _ask.Option("read", "example-read")],
                "leave", seen, maybe.Count, string.Join(", ", said.SelectMany(column => maybe.Select(column.TextAt))
                    .Where(text => ExampleWords.Mark(text) != ExampleMark.None).Distinct().Take(3)
                    .Select(text => ReceivedText.OneLine(ReceivedText.Masked(text))))) == "leave")
            {
                plain.UnionWith(maybe);
            }
        }
        _ask.Tell("example-rows", plain.Count, [.. plain.Order().Select(table.SeenRow)]);
        table.LeaveOut(plain.Contains);
    }

    // the other bag of the same hole, beside one that bears the remark
    private IEnumerable<int> Others(HashSet<int> marked)
    {
        if (table.IsBurialRow || table.Of(ColumnChoice.Burial) is not { } hole || table.Of(ColumnChoice.Role) is not { } role)
            return [];
        return [.. marked.SelectMany(row => new[] { row - 1, row + 1 }.Where(other => other >= 0 && other < table.Rows.Count
            && !marked.Contains(other) && hole.TextAt(row).Length > 0 && hole.TextAt(other) == hole.TextAt(row)
            && role.TextAt(other) != role.TextAt(row)
            && Enumerable.Range(0, table.Rows.Count).Count(one => hole.TextAt(one) == hole.TextAt(row)) == 2))];
    }
}
