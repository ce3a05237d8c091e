using System.Globalization;

namespace DecayAtlas.Contributions.Layout;

/// <summary>Takes out rows that hold what was computed of others: means, sums, standard deviations, counts. By their words, or by being the
/// mean or the sum of the rows above.</summary>
internal static class AggregateRows
{
    private const int MostWords = 50_000;

    public static void TakeOut(Block block, LayoutNotes notes, ReadingTime time)
    {
        int width = block.Columns.Count;
        Running[] all = new Running[width], since = new Running[width];
        List<(BlockRow Row, bool IsNamed)> computed = [];
        List<BlockRow> kept = [];
        int[] filledIn = new int[width];
        Dictionary<string, (bool Is, bool IsWeak)> words = [];
        foreach (BlockRow row in block.Rows)
        {
            for (int i = 0; i < width; i++)
                filledIn[i] += IsFilled(row.Cells[i]) ? 1 : 0;
        }
        foreach (BlockRow row in block.Rows)
        {
            time.Ask();
            Written?[] numbers = Array.ConvertAll(row.Cells, Number);
            bool isNamed = IsNamed(row, numbers, filledIn, block.Rows.Count, since, all, words)
                || (kept.Count > 3 && LacksAny(row, filledIn, block.Rows.Count) && IsMeanOfDecimals(numbers, all)
                    && notes.Ask("aggregate", Invariant($"{row.Number}"), 1, [row.First], "leave", "read") == "leave");
            if (isNamed || (kept.Count > 1 && HasNoLabel(row, filledIn, block.Rows.Count)
                && (Matches(numbers, since) || Matches(numbers, all)) && IsMeant(row, numbers)))
            {
                computed.Add((row, isNamed));
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
        foreach ((BlockRow row, _) in computed)
            notes.Tell("aggregate-rows", row.First, row.First?.Value.Text.Trim());
        block.Rows = kept;

        // Where one number alone is the mean of others it may as well be a bag.
        bool IsMeant(BlockRow row, Written?[] numbers) => numbers.Count(number => number is not null) > 1
            || notes.Ask("aggregate", Invariant($"{row.Number}"), 1, [row.First], "leave", "read") == "leave";
    }

    private static bool IsNamed(BlockRow row, Written?[] numbers, int[] filledIn, int rows, Running[] since, Running[] all,
        Dictionary<string, (bool Is, bool IsWeak)> words)
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
            return !isWeak || Matches(numbers, since) || Matches(numbers, all) || LacksLabels(row, filledIn, rows, i);
        }
        return false;
    }

    // Two weighings and more that are the means of all above: a row of means that has a number as bags have.
    private static bool IsMeanOfDecimals(Written?[] numbers, Running[] running)
    {
        int like = 0;
        for (int i = 0; i < numbers.Length; i++)
        {
            if (numbers[i] is { Step: < 0.5 } number && running[i].Count > 3)
            {
                if (!Near(number, running[i].Sum / running[i].Count))
                    return false;
                like++;
            }
        }
        return like > 1;
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

    private static bool Matches(Written?[] numbers, Running[] running)
    {
        bool hasAny = false, isMean = true, isSum = true, isSd = true;
        for (int i = 0; i < numbers.Length; i++)
        {
            if (numbers[i] is not { } number)
                continue;
            Running above = running[i];
            if (above.Count < 2)
                return false;
            hasAny = true;
            isMean &= Near(number, above.Sum / above.Count);
            isSum &= Near(number, above.Sum);
            isSd &= Near(number, above.Deviation);
        }
        return hasAny && (isMean || isSum || isSd);
    }

    // As far as a number that was rounded to so many digits can be told.
    private static bool Near(Written written, double computed) => Math.Abs(computed) > 1e-12
        && Math.Abs(written.Value - computed) <= 0.51 * written.Step + 1e-9 * Math.Abs(computed);

    private static Written? Number(TidyCell? cell)
    {
        if (cell is null || cell.Value.Kind is not (SheetCellKind.Number or SheetCellKind.Text) || cell.Value.Text.Length > 30
            || CellNatures.Of(cell.Value) != CellNature.Number)
        {
            return null;
        }
        ReadOnlySpan<char> text = cell.Value.Text.AsSpan().Trim();
        int end = 0;
        while (end < text.Length && (char.IsAsciiDigit(text[end]) || "+-.,'’".Contains(text[end], StringComparison.Ordinal)))
            end++;
        string plain = (cell.Value.Kind == SheetCellKind.Number ? text : text[..end]).ToString();
        if (cell.Value.Kind == SheetCellKind.Text)
        {
            plain = plain.Replace("'", "", StringComparison.Ordinal).Replace("’", "", StringComparison.Ordinal);
            int sign = plain.LastIndexOfAny(['.', ',']);
            // the last of both signs is that of decimals
            if (sign >= 0)
            {
                plain = plain[..sign].Replace(".", "", StringComparison.Ordinal).Replace(",", "", StringComparison.Ordinal) + "."
                    + plain[(sign + 1)..];
            }
        }
        if (!double.TryParse(plain, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) || !double.IsFinite(value))
            return null;
        int point = plain.IndexOf('.', StringComparison.Ordinal);
        return new Written(value, point < 0 ? 1 : Math.Pow(10, point - plain.Length + 1));
    }

    /// <param name="Step">One of its last digit.</param>
    private readonly record struct Written(double Value, double Step);

    private record struct Running(int Count, double Sum, double Squares)
    {
        public readonly double Deviation => Count < 2 ? 0
            : Math.Sqrt(Math.Max(0, Squares - Sum * Sum / Count) / (Count - 1));

        public void Add(double number) => (Count, Sum, Squares) = (Count + 1, Sum + number, Squares + number * number);
    }
}
