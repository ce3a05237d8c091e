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

    private static readonly HashSet<string> Worse =
    [
        "alt", "alte", "alter", "altes", "veraltet", "vorherige", "sicherung", "entwurf", "falsch", "roh", "rohdaten", "old", "older",
        "outdated", "previous", "backup", "draft", "wrong", "raw", "original", "viejo", "vieja", "viejos", "antiguo", "antigua", "anterior",
        "borrador", "bruto", "ancien", "ancienne", "anciennes", "vieux", "precedent", "brouillon", "brut", "brute", "sauvegarde",
    ];

    /// <summary>Whether a name says that another copy of what it is over counts.</summary>
    public static bool IsNamedWorse(string name) => LayoutWords.Fold(name).Split([' ', '(', ')', '[', ']', '_', '-', '.', ',', ':'],
        StringSplitOptions.RemoveEmptyEntries).Any(Worse.Contains);

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
            bool isBetter = IsNamedBetter(NameOf(other)) && !IsNamedBetter(NameOf(main))
                || IsNamedWorse(NameOf(main)) && !IsNamedWorse(NameOf(other));
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
        bool isBetter = IsNamedWorse(NameOf(first)) != IsNamedWorse(NameOf(second)) ? IsNamedWorse(NameOf(first))
            : IsNamedBetter(NameOf(second)) || !IsNamedBetter(NameOf(first));
        (Block counting, Block before) = isBetter ? (second, first) : (first, second);
        // a sheet of the bags alone that were mended counts for these, and for no other
        string over = isBetter ? "second-over-first" : "first-over-second";
        Block? mended = Mended(before, counting);
        string[] whole = isBetter ? ["second", "first", "both"] : ["first", "second", "both"];
        string answer = notes.Ask("copies", $"{NameOf(first)} / {NameOf(second)}", second.Rows.Count, Differing(first, second),
            mended is null ? whole : [over, .. whole]);
        if (answer == "both")
        {
            kept.Add(second);
            return;
        }
        Block left = answer == "second" ? first : answer == "first" ? second : before, read = left == first ? second : first;
        kept[at] = answer is "first" or "second" ? read : mended!;
        if (answer is not ("first" or "second"))
        {
            notes.Tell("copies-mended", counting.Rows[0].First, NameOf(counting), counting.Rows.Count);
            return;
        }
        notes.Tell("copies-left", left.Rows[0].First, NameOf(left));
        HashSet<BlockRow> again = [.. Pairs(left, read).Select(pair => pair.First)];
        foreach (BlockRow row in left.Rows.Where(row => !again.Contains(row)))
            notes.Tell("copies-lost", row.First, NameOf(left));
    }

    // what stands in the one that counts, and all other rows of the one before; null where it says all of them again
    private static Block? Mended(Block before, Block counting)
    {
        (int First, int Second)[] shared = Shared(before, counting);
        if (shared.Length < counting.Columns.Count || shared.Select(pair => pair.Second).Distinct().Count() < shared.Length)
            return null;
        Dictionary<BlockRow, BlockRow> again = [];
        foreach ((BlockRow First, BlockRow Second) pair in Pairs(before, counting))
            again[pair.First] = pair.Second;
        if (again.Count == before.Rows.Count)
            return null;
        HashSet<BlockRow> met = [.. again.Values];
        return new Block(before.Sheet, before.IsOfHiddenSheet, before.Columns)
        {
            LinesAbove = before.LinesAbove,
            PairsAbove = before.PairsAbove,
            Groups = before.Groups,
            Rows = [.. before.Rows.Select(row => again.TryGetValue(row, out BlockRow? mend) ? Under(mend, row) : row),
                .. counting.Rows.Where(row => !met.Contains(row)).Select(row => Under(row, null))],
        };

        // in the order of columns of the one before, with what only that has
        BlockRow Under(BlockRow mend, BlockRow? own)
        {
            TidyCell?[] cells = own is null ? new TidyCell?[before.Columns.Count] : [.. own.Cells];
            foreach ((int first, int second) in shared)
                cells[first] = mend.Cells[second];
            return mend with { Cells = cells };
        }
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

    // by what stands in the first column, or in it and the next, where that is the same once in both; otherwise one below the other
    private static (BlockRow First, BlockRow Second)[] Pairs(Block one, Block other)
    {
        for (int width = 1; width <= Math.Min(MostKeys, Math.Min(one.Columns.Count, other.Columns.Count)); width++)
        {
            Dictionary<string, BlockRow> rows = [];
            if (one.Rows.TrueForAll(row => TextOf(row, 0).Length > 0 && rows.TryAdd(KeyOf(row, width), row))
                && other.Rows.Select(row => KeyOf(row, width)).Distinct().Count() == other.Rows.Count
                && (width == 1 || other.Rows.Exists(row => rows.ContainsKey(KeyOf(row, width)))))
            {
                return [.. other.Rows.Where(row => rows.ContainsKey(KeyOf(row, width)))
                    .Select(row => (rows[KeyOf(row, width)], row))];
            }
        }
        return [.. one.Rows.Zip(other.Rows)];
    }

    // hole and litter, or place, hole and litter
    private const int MostKeys = 3;

    private static string KeyOf(BlockRow row, int width) => string.Join('\n', Enumerable.Range(0, width).Select(i => TextOf(row, i)));

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
