namespace DecayAtlas.Contributions.Layout;

/// <summary>A table with a row for each weighing: the rows of one bag become one, with what differs between them in columns of their
/// own.</summary>
internal static class WeighingRows
{
    /// <summary>What is behind the names of columns that are made here; names of columns are understood by these words.</summary>
    private static readonly string[] Ends = ["before", "after", "tare"];

    // by its place among the ends
    private const int EmptyBag = 2;

    // of all bags those that must have been weighed twice
    private const double Enough = 0.6, EnoughWithoutWords = 0.8;

    /// <returns>The table as it was where its rows are no weighings.</returns>
    public static Block Joined(Block block, LayoutNotes notes)
    {
        // whoever said of two tables how they belong together is not asked again
        if (notes.Wishes.Answers.Keys.Any(id => id.StartsWith("layout.same-keys", StringComparison.Ordinal)))
            return block;
        // the empty bag weighs the same at both
        int[] empty = [.. Columns(block, i => LayoutWords.WeighingIn(block.Columns[i].Name) == EmptyBag)];
        int[] masses = [.. Columns(block, i => !empty.Contains(i)
            && (LayoutWords.IsUnitOfMass(block.Columns[i].Unit) || LayoutWords.IsOfMass(block.Columns[i].Name)))];
        if (masses.Length == 0 || Array.Exists(masses, i => LayoutWords.WeighingIn(block.Columns[i].Name) is not null))
            return block;
        int[] dates = [.. Columns(block, i => Share(block, i, CellNature.Date) > 0.5)];
        (int Column, int[] Kinds) said = Columns(block, i => !masses.Contains(i) && !dates.Contains(i))
            .Select(i => (i, Kinds: block.Rows.ConvertAll(row => KindOf(row.Cells[i])).ToArray()))
            .FirstOrDefault(column => Array.TrueForAll(column.Kinds, kind => kind >= 0) && column.Kinds.Contains(0)
                && column.Kinds.Contains(1));
        int[] key = Key(block, [.. masses, .. empty, .. dates, .. said.Kinds is null ? [] : new[] { said.Column }]);
        List<int>[] bags = [.. Enumerable.Range(0, block.Rows.Count).GroupBy(row => string.Join('\n', key.Select(i =>
            TextOf(block.Rows[row].Cells[i])))).Select(own => own.ToList())];
        int[]? kinds = said.Kinds ?? KindsByOrder(block, bags, masses, dates);
        if (kinds is null)
            return block;
        bool areBags = key.Length > 0 && Array.TrueForAll(bags, rows => rows.Select(row => kinds[row]).Distinct().Count() == rows.Count)
            && bags.Count(rows => rows.Exists(row => kinds[row] == 0) && rows.Exists(row => kinds[row] == 1)) >= Enough * bags.Length;
        if (!areBags)
        {
            if (said.Kinds is not null)
                notes.Tell("weighings-apart", block.Rows[0].Cells[said.Column], block.Columns[said.Column].Name, block.Rows.Count);
            return block;
        }
        TidyCell?[] first = [.. bags[0].Select(row => block.Rows[row].First)];
        if (said.Kinds is null && notes.Ask("weighings", "", bags.Length, first, "join", "apart") == "apart")
            return block;
        notes.Tell("weighings", block.Rows[0].First, string.Join(", ", key.Select(i => block.Columns[i].Name)), bags.Length);
        return Made(block, bags, kinds, column => masses.Contains(column) || (Differs(block, bags, column) && !AreNumbersOfRows(block,
            column)),
            said.Kinds is null ? -1 : said.Column);
    }

    private static Block Made(Block block, List<int>[] bags, int[] kinds, Func<int, bool> isOfWeighing, int left)
    {
        List<TidyColumn> columns = [];
        List<Func<List<int>, TidyCell?>> cells = [];
        for (int i = 0; i < block.Columns.Count; i++)
        {
            int column = i;
            bool isOurs = RowLooks.IsMade(block.Columns[i].Name);
            if (i == left)
                continue;
            if (isOurs || !isOfWeighing(i))
            {
                columns.Add(block.Columns[i]);
                // the last weighing tells more of a bag than the first
                cells.Add(rows => rows.OrderBy(row => isOurs ? -kinds[row] : row).Select(row => block.Rows[row].Cells[column])
                    .FirstOrDefault(IsFilled));
                continue;
            }
            foreach (int kind in kinds.Distinct().Order())
            {
                columns.Add(block.Columns[i] with { Name = $"{block.Columns[i].Name} {Ends[kind]}", IsOfWeighing = true });
                cells.Add(rows => rows.Where(row => kinds[row] == kind).Select(row => block.Rows[row].Cells[column]).FirstOrDefault());
            }
        }
        return new Block(block.Sheet, block.IsOfHiddenSheet, columns)
        {
            LinesAbove = block.LinesAbove,
            PairsAbove = block.PairsAbove,
            Rows = [.. bags.Select(rows => block.Rows[rows[0]] with { Cells = [.. cells.Select(cell => cell(rows))] })],
        };
    }

    // what names a bag: all that is neither measured nor said of one weighing; a number of its own for each row names none
    private static int[] Key(Block block, int[] without) => [.. Columns(block, i => !without.Contains(i)
        && !LayoutWords.IsOfRemarks(block.Columns[i].Name)
        && !RowLooks.IsMade(block.Columns[i].Name)
        && block.Rows.TrueForAll(row => IsFilled(row.Cells[i]))
        && block.Rows.Select(row => TextOf(row.Cells[i])).Distinct().Count() < block.Rows.Count)];

    // Without words: every bag stands twice with another day, and lost weight from one to the other.
    private static int[]? KindsByOrder(Block block, List<int>[] bags, int[] masses, int[] dates)
    {
        if (masses is not [int mass] || dates is not [int date] || bags.Length < 2 || Array.Exists(bags, rows => rows.Count > 2))
            return null;
        (int First, int Last)[] pairs = [.. bags.Where(rows => rows.Count == 2 && rows.TrueForAll(row => IsFilled(block.Rows[row]
            .Cells[date])) && TextOf(block.Rows[rows[0]].Cells[date]) != TextOf(block.Rows[rows[1]].Cells[date]))
            .Select(rows => (rows[0], rows[1]))];
        (double First, double Last)[] weighed = [.. pairs.Select(pair => (NumberAt(pair.First), NumberAt(pair.Last)))
            .Where(pair => pair is ({ }, { })).Select(pair => (pair.Item1!.Value, pair.Item2!.Value))];
        if (pairs.Length < EnoughWithoutWords * bags.Length || weighed.Length < EnoughWithoutWords * bags.Length)
            return null;
        int[] kinds = new int[block.Rows.Count];
        bool isDown = weighed.Count(pair => pair.First > pair.Last) > 0.9 * weighed.Length;
        if (!isDown && weighed.Count(pair => pair.First < pair.Last) <= 0.9 * weighed.Length)
            return null;
        foreach ((int first, int last) in pairs)
            (kinds[first], kinds[last]) = isDown ? (0, 1) : (1, 0);
        return kinds;

        double? NumberAt(int row) => block.Rows[row].Cells[mass] is { } cell ? CellNumber.Of(cell.Value)?.Value : null;
    }

    private static bool Differs(Block block, List<int>[] bags, int column) => Array.Exists(bags, rows => rows
        .Select(row => block.Rows[row].Cells[column]).Where(IsFilled).Select(TextOf).Distinct().Count() > 1);

    private static bool AreNumbersOfRows(Block block, int column) => block.Rows.TrueForAll(row => row.Cells[column] is { } cell
        && CellNumber.Of(cell.Value) is { Step: >= 1 })
        && block.Rows.Select(row => TextOf(row.Cells[column])).Distinct().Count() == block.Rows.Count;

    private static IEnumerable<int> Columns(Block block, Func<int, bool> which) => Enumerable.Range(0, block.Columns.Count).Where(which);

    private static int KindOf(TidyCell? cell) => cell is { Value.Kind: SheetCellKind.Text } ? LayoutWords.WeighingIn(cell.Value.Text) ?? -1
        : -1;

    private static double Share(Block block, int column, CellNature nature) => block.Rows.Count(row =>
        row.Cells[column] is { } cell && CellNatures.Of(cell.Value) == nature) / (double)block.Rows.Count;

    private static bool IsFilled(TidyCell? cell) => cell is not null && cell.Value.Kind != SheetCellKind.Empty;

    private static string TextOf(TidyCell? cell) => LayoutWords.Fold(cell?.Value.Text ?? "");
}
