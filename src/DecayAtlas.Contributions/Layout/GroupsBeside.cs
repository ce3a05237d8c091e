namespace DecayAtlas.Contributions.Layout;

/// <summary>Tables that stand beside each other under names of their own, place by place, in one row of a repetition: each group of columns
/// becomes rows of its own, with its name as their title.</summary>
internal static class GroupsBeside
{
    // both bags before and both after: what names a litter or a weighing has fewer of the same name under it
    private const int FewestOfWeighing = 2;

    /// <returns>The block as it was where no groups of columns are alike.</returns>
    public static Block Apart(Block block, BlockFinder finder, LayoutNotes notes)
    {
        foreach (IReadOnlyList<(TidyCell? Name, string Others)> level in block.Groups)
        {
            (TidyCell Name, int[] Columns)[] groups = [.. Enumerable.Range(0, level.Count).Where(i => level[i].Name is not null)
                .GroupBy(i => LayoutWords.Fold(level[i].Name!.Value.Text))
                .Select(own => (level[own.First()].Name!, own.ToArray()))];
            if (groups.Length > 1 && ArePlaces(level, groups))
                return Apart(block, level, groups, finder, notes);
        }
        return block;
    }

    // not the two litters, nor the two weighings
    private static bool ArePlaces(IReadOnlyList<(TidyCell? Name, string Others)> level, (TidyCell Name, int[] Columns)[] groups) =>
        Array.TrueForAll(groups, group => LitterWords.RoleOf(group.Name.Value.Text) is null
            && LayoutWords.WeighingIn(group.Name.Value.Text) is null && group.Columns.Length == groups[0].Columns.Length
            && group.Columns.Zip(groups[0].Columns).All(pair =>
                LayoutWords.Fold(level[pair.First].Others) == LayoutWords.Fold(level[pair.Second].Others)))
        && HasOfWeighing(level, groups[0].Columns, 0) && HasOfWeighing(level, groups[0].Columns, 1);

    private static bool HasOfWeighing(IReadOnlyList<(TidyCell? Name, string Others)> level, int[] columns, int weighing) =>
        columns.Count(i => LayoutWords.WeighingIn(level[i].Others) == weighing) >= FewestOfWeighing;

    private static Block Apart(Block block, IReadOnlyList<(TidyCell? Name, string Others)> level, (TidyCell Name, int[] Columns)[] groups,
        BlockFinder finder, LayoutNotes notes)
    {
        int[] shared = [.. Enumerable.Range(0, block.Columns.Count).Except(groups.SelectMany(group => group.Columns))];
        (NamedValue Label, TidyCell[] Cells)[] above = [.. Above(finder, block, groups)];
        List<TidyColumn> columns = [.. shared.Select(i => block.Columns[i])];
        List<Func<BlockRow, int, TidyCell?>> cells = [.. shared.Select<int, Func<BlockRow, int, TidyCell?>>(i => (row, _) => row.Cells[i])];
        Add(new TidyColumn(BlockJoiner.TitleColumn, null, groups[0].Name.Place), (_, group) => groups[group].Name);
        foreach ((NamedValue label, TidyCell[] said) in above)
        {
            // the row is hidden, not the column that is made of it
            if (said[0].Look is { IsHidden: true })
                notes.Tell("hidden-lines", said[0]);
            TidyCell[] shown = [.. said.Select(cell => cell.Look is not { } look ? cell
                : cell with { Look = look with { IsHidden = false } })];
            Add(new TidyColumn(label.Name.Value.Text, null, label.Name.Place), (_, group) => shown[group]);
        }
        for (int nth = 0; nth < groups[0].Columns.Length; nth++)
        {
            int at = nth;
            Add(block.Columns[groups[0].Columns[at]] with { Name = level[groups[0].Columns[at]].Others },
                (row, group) => row.Cells[groups[group].Columns[at]]);
        }
        finder.Pairs.RemoveAll(pair => above.Any(said => said.Label == pair));
        finder.Lines.RemoveAll(line => above.Any(said => said.Cells.Contains(line)));
        foreach ((TidyCell name, _) in groups)
            notes.Tell("groups-beside", name, name.Value.Text.Trim());
        return new Block(block.Sheet, block.IsOfHiddenSheet, columns)
        {
            LinesAbove = [.. block.LinesAbove.Except(above.SelectMany(said => said.Cells))],
            PairsAbove = [.. block.PairsAbove.Except(above.Select(said => said.Label))],
            Rows = [.. groups.Index().SelectMany(group => block.Rows
                .Where(row => group.Item.Columns.Any(i => row.Cells[i] is { Value.Kind: not SheetCellKind.Empty }))
                .Select(row => row with { Cells = [.. cells.Select(cell => cell(row, group.Index))] }))],
        };

        void Add(TidyColumn column, Func<BlockRow, int, TidyCell?> cellOf)
        {
            columns.Add(column.Beside(columns));
            cells.Add(cellOf);
        }
    }

    // a row above the names with one cell over each group: buried | 19 May | 20 May
    private static IEnumerable<(NamedValue Label, TidyCell[] Cells)> Above(BlockFinder finder, Block block,
        (TidyCell Name, int[] Columns)[] groups)
    {
        foreach (NamedValue pair in finder.Pairs.Where(pair => pair.Name.Place.Row < groups[0].Name.Place.Row
            && pair.Name.Place.Row == pair.Value.Place.Row))
        {
            TidyCell[] row = [pair.Value, .. finder.Lines.Where(line => line.Place.Row == pair.Name.Place.Row)];
            TidyCell?[] cells = [.. groups.Select(group => row.Where(cell => group.Columns.Any(i =>
                block.Columns[i].Place.Column == cell.Place.Column)).ToArray() is [{ } only] ? only : null)];
            if (Array.TrueForAll(cells, cell => cell is not null) && cells.Distinct().Count() == groups.Length)
                yield return (pair, [.. cells.OfType<TidyCell>()]);
        }
    }
}
