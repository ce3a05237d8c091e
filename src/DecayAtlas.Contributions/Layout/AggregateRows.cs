namespace DecayAtlas.Contributions.Layout;

/// <summary>Takes out rows that hold what was computed of others: means, sums, standard deviations, counts. By their words, or by being the
/// mean or the sum of the rows above.</summary>
internal static class AggregateRows
{
    private const int MostWords = 50_000;

    // A row of bags whose numbers would be so by chance is asked about; the last of its like is likelier to be computed.
    private const double LeastChance = 1e-4, LeastChanceOfLast = 1e-2;

    // A row with an id and all else that a bag has, behind so many of its like whose means it holds: rarer in bags than a mean is.
    private const double LeastChanceOfBag = 4e-3;

    private const int FewestOfMean = 3;

    public static void TakeOut(Block block, LayoutNotes notes, ReadingTime time)
    {
        int width = block.Columns.Count;
        RunningNumbers[] all = new RunningNumbers[width], since = new RunningNumbers[width];
        GroupedNumbers groups = new([.. block.Rows.Select(Labels)], width);
        int[] measured = Measured(block);
        List<BlockRow> computed = [], kept = [];
        HashSet<string> labelled = [];
        int[] filledIn = new int[width];
        Dictionary<string, (bool Is, bool IsWeak)> words = [];
        foreach (BlockRow row in block.Rows)
        {
            for (int i = 0; i < width; i++)
                filledIn[i] += IsFilled(row.Cells[i]) ? 1 : 0;
        }
        for (int at = 0; at < block.Rows.Count; at++)
        {
            time.Ask();
            BlockRow row = block.Rows[at];
            CellNumber?[] numbers = Array.ConvertAll(row.Cells, cell => cell is null ? null : CellNumber.Of(cell.Value));
            bool isComputed = IsNamed(row, numbers, at)
                || (kept.Count > 1 && HasNoLabel(row, filledIn, block.Rows.Count)
                    && (RunningNumbers.AreComputed(numbers, since) || RunningNumbers.AreComputed(numbers, all))
                    && (numbers.Count(number => number is not null) > 1 || IsLeft(row, true)))
                || IsByChance(numbers, at, row);
            groups.Pass(at, isComputed ? null : numbers);
            if (isComputed)
            {
                computed.Add(row);
                Array.Clear(since);
                continue;
            }
            kept.Add(row);
            for (int i = 0; i < width; i++)
            {
                if (numbers[i] is { } number)
                {
                    since[i].Add(number.Value);
                    all[i].Add(number.Value);
                }
            }
        }
        // a table of nothing but means is a table of means
        if (kept.Count == 0 || computed.Count == 0)
            return;
        foreach (BlockRow row in computed)
            notes.Tell("aggregate-rows", row.First, notes.TextOf(row.First));
        block.Rows = kept;

        // Where numbers alone say that it was computed it may as well be a bag.
        bool IsLeft(BlockRow row, bool isLikely) => notes.Ask("aggregate", Invariant($"{row.Number}"), 1, [row.First],
            isLikely ? ["leave", "read"] : ["read", "leave"]) == "leave";

        bool IsByChance(CellNumber?[] numbers, int at, BlockRow row)
        {
            // labels that were filled down from a row above are those of no new bag
            bool lacks = LacksAny(row, filledIn, block.Rows.Count), isFilledDown = !labelled.Add(KeyOf(row, measured)) || lacks;
            if (kept.Count < 2)
                return false;
            int least = isFilledDown ? 1 : 2;
            (RunningNumbers[] Above, bool IsLast)[] above = [.. groups.Of(at), (since, false)];
            double[] chances = [.. above.Select(one => RunningNumbers.ChanceOf(numbers, one.Above, measured, least))];
            bool isLikely = chances.Min() <= LeastChance;
            bool isBag = !isFilledDown && above.Zip(chances).Any(one => one.First.IsLast && one.Second <= LeastChanceOfBag
                && Array.TrueForAll(measured, i => numbers[i] is null || one.First.Above[i].Count >= FewestOfMean));
            return (isLikely || isBag
                || (isFilledDown && above.Zip(chances).Any(one => one.First.IsLast && one.Second <= LeastChanceOfLast)))
                && IsLeft(row, isLikely || lacks);
        }

        bool IsNamed(BlockRow row, CellNumber?[] numbers, int at)
        {
            for (int i = 0; i < row.Cells.Length; i++)
            {
                if (row.Cells[i] is not { Value.Kind: SheetCellKind.Text } cell || numbers[i] is not null)
                    continue;
                // the same few words stand in every row
                if (!words.TryGetValue(cell.Value.Text, out (bool Is, bool IsWeak) word))
                {
                    word = LayoutWords.Aggregate(cell.Value.Text);
                    if (words.Count < MostWords)
                        words[cell.Value.Text] = word;
                }
                (bool isOne, bool isWeak) = word;
                if (!isOne)
                    continue;
                // a place may be called Media Luna: its row has all that others have, and its numbers are its own
                return !isWeak || RunningNumbers.AreComputed(numbers, since) || RunningNumbers.AreComputed(numbers, all)
                    || LacksLabels(row, filledIn, block.Rows.Count, i)
                    || groups.Of(at).Any(group => RunningNumbers.ChanceOf(numbers, group.Above, measured, 1) < 1);
            }
            return false;
        }
    }

    private static string?[] Labels(BlockRow row) => Array.ConvertAll(row.Cells, cell =>
        cell is not null && CellNatures.Of(cell.Value) is CellNature.Label or CellNature.Date ? LayoutWords.Fold(cell.Value.Text) : null);

    // all that is not measured
    private static string KeyOf(BlockRow row, int[] measured) => string.Join('\n', row.Cells.Select((cell, i) =>
        measured.Contains(i) ? "" : cell?.Value.Text.Trim()));

    // columns of masses; where no name says that, those with decimals
    private static int[] Measured(Block block)
    {
        int[] masses = [.. Enumerable.Range(0, block.Columns.Count).Where(i => LayoutWords.IsUnitOfMass(block.Columns[i].Unit)
            || LayoutWords.IsOfMass(block.Columns[i].Name))];
        return masses.Length > 0 ? masses : [.. Enumerable.Range(0, block.Columns.Count).Where(i => block.Rows.Count(row =>
            row.Cells[i] is { } cell && CellNumber.Of(cell.Value) is { Step: < 0.5 }) * 2 > block.Rows.Count)];
    }

    private static bool LacksLabels(BlockRow row, int[] filledIn, int rows, int except)
    {
        int usual = 0, lacking = 0;
        for (int i = 0; i < row.Cells.Length; i++)
        {
            if (i == except || filledIn[i] < 0.6 * rows)
                continue;
            usual++;
            lacking += IsFilled(row.Cells[i]) ? 0 : 1;
        }
        return lacking > 0 && lacking * 4 >= usual;
    }

    private static bool LacksAny(BlockRow row, int[] filledIn, int rows) =>
        Enumerable.Range(0, filledIn.Length).Any(i => filledIn[i] >= 0.6 * rows && !IsFilled(row.Cells[i]));

    private static bool HasNoLabel(BlockRow row, int[] filledIn, int rows)
    {
        bool lacks = false;
        for (int i = 0; i < row.Cells.Length; i++)
        {
            if (row.Cells[i] is { } cell && CellNatures.Of(cell.Value) is CellNature.Label or CellNature.Date)
                return false;
            lacks |= filledIn[i] > 0.5 * rows && !IsFilled(row.Cells[i]);
        }
        return lacks;
    }

    private static bool IsFilled(TidyCell? cell) => cell is not null && cell.Value.Kind != SheetCellKind.Empty;
}
