namespace DecayAtlas.Contributions.Layout.Blocks;

/// <summary>Finds the same table twice: a sheet that was copied to be mended, or pasted again. Two copies would be twice the
/// bags.</summary>
internal sealed class CopiedTables(LayoutNotes notes, ReadingTime time)
{
    private const double MostlyAlike = 0.8, LeastAlike = 0.6;

    // columns that are held each against each: more than people make
    private const int MostHeld = 2500;

    private static readonly string[] Better =
    [
        "correct", "corrig", "korrig", "correg", "verbess", "bereinigt", "berichtigt", "final", "definit", "endg", "neu", "new", "nuev",
        "nouv", "reinschrift", "propre", "limpio", "fair copy",
    ];

    /// <summary>Whether a name says that what it is over counts before another copy of it.</summary>
    public static bool IsNamedBetter(string name) => Array.Exists(Better, word => LayoutWords.Fold(name).Contains(word,
        StringComparison.Ordinal));

    /// <summary>The tables without those that only repeat another: what is alike in every cell is read once and told, and of others the
    /// sender says which one counts.</summary>
    public List<Block> Without(List<Block> family)
    {
        List<Block> kept = [];
        foreach (Block block in family)
        {
            int at = kept.FindIndex(one => AreAlike(one, block));
            if (at < 0)
                kept.Add(block);
            else if (AreTheSame(kept[at], block))
                notes.Tell("copies", block.Rows[0].First, NameOf(block), block.Rows.Count);
            else
                Choose(kept, at, block);
        }
        return kept;
    }

    /// <summary>The table that counts where another has most of its numbers under other names, as a fair copy may: which of the two the
    /// sender says, and the other is left out. What repeats all of them, as a sheet that computes from them, is no copy.</summary>
    public Block Counting(Block main, List<Block> left)
    {
        foreach (Block other in left.ToArray())
        {
            if (!AreOfTheSame(main, other))
                continue;
            bool isBetter = IsNamedBetter(NameOf(other)) && !IsNamedBetter(NameOf(main));
            bool isOther = notes.Ask("copies", $"{NameOf(main)} / {NameOf(other)}", other.Rows.Count,
                [main.Rows[0].First, other.Rows[0].First], isBetter ? ["second", "first"] : ["first", "second"]) == "second";
            notes.Tell("copies-left", (isOther ? main : other).Rows[0].First, NameOf(isOther ? main : other));
            left.Remove(other);
            main = isOther ? other : main;
        }
        return main;
    }

    // by their numbers alone: two columns or more that mostly agree, one of them in all rows and one not
    private bool AreOfTheSame(Block one, Block other)
    {
        time.Ask();
        (BlockRow First, BlockRow Second)[] pairs = Pairs(one, other);
        if (one.Columns.Count * other.Columns.Count > MostHeld || pairs.Length < 3
            || pairs.Length < MostlyAlike * Math.Min(one.Rows.Count, other.Rows.Count))
        {
            return false;
        }
        double[] shares = [.. Enumerable.Range(0, one.Columns.Count).Select(i => Enumerable.Range(0, other.Columns.Count)
            .Select(j => Agreeing(i, j)).DefaultIfEmpty().Max()).Where(share => share >= LeastAlike)];
        return shares.Length > 1 && shares.Contains(1) && shares.Any(share => share < 1);

        // the share of rows in which two columns of different broken numbers have the same
        double Agreeing(int first, int second)
        {
            time.Ask();
            (double First, double Second)[] both = [.. pairs.Select(pair => (Number(pair.First, first), Number(pair.Second, second)))
                .Where(pair => pair is ({ }, { })).Select(pair => (pair.Item1!.Value.Value, pair.Item2!.Value.Value))];
            return both.Length < 3 || both.Select(pair => pair.First).Distinct().Count() * 2 <= both.Length
                || both.Count(pair => pair.First != Math.Floor(pair.First)) * 2 <= both.Length ? 0
                : both.Count(pair => pair.First == pair.Second) / (double)pairs.Length;
        }
    }

    private void Choose(List<Block> kept, int at, Block second)
    {
        Block first = kept[at];
        bool isBetter = IsNamedBetter(NameOf(second)) || !IsNamedBetter(NameOf(first));
        string answer = notes.Ask("copies", $"{NameOf(first)} / {NameOf(second)}", second.Rows.Count, Differing(first, second),
            isBetter ? ["second", "first", "both"] : ["first", "second", "both"]);
        if (answer == "second")
            kept[at] = second;
        if (answer == "both")
            kept.Add(second);
        else
            notes.Tell("copies-left", (answer == "second" ? first : second).Rows[0].First, NameOf(answer == "second" ? first : second));
    }

    private static string NameOf(Block block) => block.Title?.Value.Text.Trim() is { Length: > 0 } title
        ? block.Sheet is null ? title : $"{block.Sheet}, {title}"
        : block.Sheet ?? Invariant($"{block.Rows[0].Number}");

    // Masses that were measured are hardly the same twice: where most of a column are, both tables are of the same bags.
    private bool AreAlike(Block one, Block other)
    {
        time.Ask();
        if (one.IsOfHiddenSheet != other.IsOfHiddenSheet || one.Rows.Count == 0 || other.Rows.Count == 0)
            return false;
        (BlockRow First, BlockRow Second)[] pairs = Pairs(one, other);
        if (pairs.Length < 2 || pairs.Length < MostlyAlike * Math.Min(one.Rows.Count, other.Rows.Count))
            return false;
        foreach ((int first, int second) in Shared(one, other))
        {
            if (!LayoutWords.IsOfMass(one.Columns[first].Name) && !LayoutWords.IsUnitOfMass(one.Columns[first].Unit)
                && !LayoutWords.IsBeforeOrAfter(one.Columns[first].Name))
            {
                continue;
            }
            (CellNumber First, CellNumber Second)[] both = [.. pairs
                .Select(pair => (Number(pair.First, first), Number(pair.Second, second)))
                .Where(pair => pair is ({ }, { })).Select(pair => (pair.Item1!.Value, pair.Item2!.Value))];
            // the same nominal mass in all rows tells nothing
            if (both.Select(pair => pair.First.Value).Distinct().Count() * 2 > Math.Max(3, both.Length)
                && both.Count(pair => pair.First.Value == pair.Second.Value) >= MostlyAlike * both.Length)
            {
                return true;
            }
        }
        return false;
    }

    private static bool AreTheSame(Block one, Block other)
    {
        (int, int)[] shared = Shared(one, other);
        return one.Rows.Count == other.Rows.Count && one.Columns.Count == other.Columns.Count && shared.Length == one.Columns.Count
            && one.Rows.Zip(other.Rows).All(rows => shared.All(column =>
                TextOf(rows.First, column.Item1) == TextOf(rows.Second, column.Item2)));
    }

    // by what stands in the first column, where that is the same once in both; otherwise one below the other
    private static (BlockRow First, BlockRow Second)[] Pairs(Block one, Block other)
    {
        Dictionary<string, BlockRow> rows = [];
        bool areKeys = one.Rows.TrueForAll(row => TextOf(row, 0) is { Length: > 0 } key && rows.TryAdd(key, row))
            && other.Rows.Select(row => TextOf(row, 0)).Distinct().Count() == other.Rows.Count;
        return areKeys ? [.. other.Rows.Where(row => rows.ContainsKey(TextOf(row, 0))).Select(row => (rows[TextOf(row, 0)], row))]
            : [.. one.Rows.Zip(other.Rows)];
    }

    private static (int First, int Second)[] Shared(Block one, Block other) =>
        [.. Enumerable.Range(0, one.Columns.Count).Select(i => (i, other.Find(LayoutWords.Fold(one.Columns[i].Name))))
            .Where(pair => pair.Item2 >= 0)];

    private static IEnumerable<TidyCell> Differing(Block one, Block other) =>
        from rows in Pairs(one, other)
        from column in Shared(one, other)
        where TextOf(rows.First, column.First) != TextOf(rows.Second, column.Second)
        from cell in new[] { rows.First.Cells[column.First], rows.Second.Cells[column.Second] }
        where cell is not null
        select cell;

    private static CellNumber? Number(BlockRow row, int column) => row.Cells[column] is { } cell ? CellNumber.Of(cell.Value) : null;

    private static string TextOf(BlockRow row, int column) => row.Cells[column]?.Value.Text.Trim() ?? "";
}
