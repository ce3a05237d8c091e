namespace DecayAtlas.Contributions.Layout;

/// <summary>Joins the tables of a file that belong together: below each other where they have the same names, beside each other where one
/// refers to the other by a column.</summary>
internal sealed class BlockJoiner(List<Block> blocks, LayoutNotes notes, ReadingTime time)
{
    /// <summary>Names of columns that are made here.</summary>
    public const string SheetColumn = "sheet", TitleColumn = "title";

    private readonly List<Block> _left = [.. blocks];

    /// <summary>What was not joined with the main table.</summary>
    public IReadOnlyList<Block> Left => _left;

    /// <summary>The table that the file is about: tables with the same names as one.</summary>
    public Block Main()
    {
        foreach (Block block in _left.Where(block => block.IsOfHiddenSheet).DistinctBy(block => block.Sheet))
            notes.Tell("hidden-sheets", block.Rows[0].First, block.Sheet);
        List<List<Block>> families = [];
        foreach (Block block in _left)
        {
            time.Ask();
            if (families.Find(family => IsAlike(family[0], block)) is { } known)
                known.Add(block);
            else
                families.Add([block]);
        }
        List<Block> main = families.MaxBy(Weight)!;
        List<Block> hidden = [.. main.Where(block => block.IsOfHiddenSheet)];
        if (hidden.Count > 0 && hidden.Count < main.Count
            && notes.Ask("hidden-sheets", "", hidden.Count, hidden.Select(block => block.Rows[0].First), "leave", "read") == "leave")
        {
            main.RemoveAll(hidden.Contains);
            _left.RemoveAll(hidden.Contains);
            foreach (BlockRow row in hidden.SelectMany(block => block.Rows))
                notes.TellRow("hidden-sheet-rows", row);
        }
        _left.RemoveAll(main.Contains);
        if (main.Count > 1 && AreTheSameRecords(main))
        {
            // the others are joined by their key
            _left.InsertRange(0, main.Skip(1));
            main = [main[0]];
        }
        return Stacked(main);
    }

    /// <summary>Tables that refer to the main one by a column, or by two.</summary>
    public void Beside(Block main)
    {
        foreach (Block other in _left.ToArray())
        {
            time.Ask();
            if (KeyOf(main, other) is { } key)
            {
                Join(main, other, key);
                _left.Remove(other);
            }
        }
    }

    private static double Weight(List<Block> family)
    {
        double cells = family.Sum(block => (double)block.FilledCells);
        bool isOfMass = family[0].Columns.Any(column => LayoutWords.IsOfMass(column.Name) || column.Unit is "g" or "mg");
        bool isHidden = family.TrueForAll(block => block.IsOfHiddenSheet);
        return cells * (isOfMass ? 50 : 1) * (isHidden ? 1e-6 : 1);
    }

    private static bool IsAlike(Block one, Block other)
    {
        HashSet<string> names = one.FoldedNames, others = other.FoldedNames;
        int shared = names.Count(others.Contains);
        return shared >= 2 && shared >= 0.7 * Math.Max(names.Count, others.Count);
    }

    // Sheets with the same names and the same numbers in the first column: the same bags before and after, or others that are numbered
    // alike.
    private bool AreTheSameRecords(List<Block> family)
    {
        if (family.Count > 3 || family[0].Columns.Count(column => LayoutWords.IsBeforeOrAfter(column.Name)) > 1)
            return false;
        HashSet<string> first = Keys(family[0]);
        bool areSame = first.Count > 1 && family.TrueForAll(block => Keys(block) is { Count: > 1 } keys
            && keys.Count(first.Contains) >= 0.8 * Math.Max(first.Count, keys.Count));
        if (!areSame)
            return false;
        bool sayBefore = family.TrueForAll(block => LayoutWords.IsBeforeOrAfter(block.Sheet ?? "")
            || LayoutWords.IsBeforeOrAfter(block.Title?.Value.Text ?? ""));
        IEnumerable<TidyCell?> seen = family.Select(block => block.Rows[0].First);
        return (sayBefore ? notes.Ask("same-keys", "", family.Count, seen, "beside", "below")
            : notes.Ask("same-keys", "", family.Count, seen, "below", "beside")) == "beside";

        static HashSet<string> Keys(Block block)
        {
            HashSet<string> keys = [];
            return block.Rows.TrueForAll(row => row.Cells[0] is { } cell && keys.Add(LayoutWords.Fold(cell.Value.Text))) ? keys : [];
        }
    }

    private Block Stacked(List<Block> family)
    {
        Block first = family[0];
        bool hasTitles = family.Count > 1 && family.Select(block => block.Title?.Value.Text).Distinct().Count() > 1;
        bool hasSheets = family.Select(block => block.Sheet).Distinct().Count() > 1;
        bool hasLines = family.Exists(block => block.Rows.Exists(row => row.Title is not null));
        List<TidyColumn> columns = [.. first.Columns];
        Dictionary<string, int> ordinals = [];
        for (int i = 0; i < columns.Count; i++)
            ordinals.TryAdd(LayoutWords.Fold(columns[i].Name), i);
        foreach (TidyColumn column in family.Skip(1).SelectMany(block => block.Columns))
        {
            if (ordinals.TryAdd(LayoutWords.Fold(column.Name), columns.Count))
                columns.Add(column);
        }
        if (family.Count > 1)
        {
            foreach (Block block in family)
            {
                notes.Tell(hasSheets ? "sheets-joined" : "tables-joined", block.Rows[0].First,
                    hasSheets ? block.Sheet : block.Title?.Value.Text);
            }
        }
        Block stacked = new(first.Sheet, first.IsOfHiddenSheet, columns, first.Title);
        foreach (Block block in family)
        {
            int[] to = [.. block.Columns.Select(column => ordinals[LayoutWords.Fold(column.Name)])];
            foreach (BlockRow row in block.Rows)
            {
                TidyCell?[] cells = family.Count == 1 ? row.Cells : new TidyCell?[columns.Count];
                for (int i = 0; family.Count > 1 && i < to.Length; i++)
                    cells[to[i]] = row.Cells[i];
                List<TidyCell?> added = [];
                if (hasSheets)
                    added.Add(Text(row, block.Sheet));
                if (hasTitles)
                    added.Add(block.Title ?? Text(row, null));
                if (hasLines)
                    added.Add(row.Title);
                stacked.Rows.Add(added.Count == 0 ? row with { Cells = cells } : row with { Cells = [.. cells, .. added] });
            }
        }
        foreach (string name in new[] { hasSheets ? SheetColumn : null, hasTitles ? TitleColumn : null, hasLines ? TitleColumn
            : null }.OfType<string>())
        {
            string unique = name;
            for (int i = 2; stacked.Columns.Exists(column => LayoutWords.Fold(column.Name) == unique); i++)
                unique = Invariant($"{name} {i}");
            stacked.Columns.Add(new TidyColumn(unique, null, columns[0].Place));
        }
        return stacked;

        static TidyCell? Text(BlockRow row, string? text) => text is null || row.First is not { } cell ? null
            : new TidyCell(SheetCell.OfText(text), cell.Place, null);
    }

    private static int[]? KeyOf(Block main, Block other)
    {
        if (other.Rows.Count == 0 || other.Columns.Count < 2)
            return null;
        string[] shared = [.. other.FoldedNames.Where(name => main.Find(name) >= 0).Take(8)];
        foreach (string name in shared)
        {
            if (Fits(main, other, [name]))
                return [other.Find(name)];
        }
        for (int i = 0; i < shared.Length; i++)
        {
            for (int j = i + 1; j < shared.Length; j++)
            {
                if (Fits(main, other, [shared[i], shared[j]]))
                    return [other.Find(shared[i]), other.Find(shared[j])];
            }
        }
        return null;
    }

    // Each key once in the other table, and most rows of the main one have theirs there.
    private static bool Fits(Block main, Block other, string[] names)
    {
        int[] own = [.. names.Select(main.Find)], theirs = [.. names.Select(other.Find)];
        HashSet<string> keys = [];
        foreach (BlockRow row in other.Rows)
        {
            if (Key(row, theirs) is { } key && !keys.Add(key))
                return false;
        }
        if (keys.Count == 0 || keys.Count < 0.8 * other.Rows.Count)
            return false;
        int with = 0, found = 0;
        foreach (BlockRow row in main.Rows)
        {
            if (Key(row, own) is not { } key)
                continue;
            with++;
            found += keys.Contains(key) ? 1 : 0;
        }
        return found > 0 && found >= 0.5 * with;
    }

    private static string? Key(BlockRow row, int[] columns)
    {
        string key = "";
        foreach (int column in columns)
        {
            if (row.Cells[column] is not { } cell || cell.Value.Text.Trim().Length == 0)
                return null;
            key += "\u0001" + LayoutWords.Fold(cell.Value.Text);
        }
        return key;
    }

    private void Join(Block main, Block other, int[] theirs)
    {
        int[] own = [.. theirs.Select(column => main.Find(LayoutWords.Fold(other.Columns[column].Name)))];
        Dictionary<string, BlockRow> byKey = [];
        foreach (BlockRow row in other.Rows)
        {
            if (Key(row, theirs) is { } key)
                byKey[key] = row;
        }
        BlockRow?[] joined = [.. main.Rows.Select(row => Key(row, own) is { } key ? byKey.GetValueOrDefault(key) : null)];
        HashSet<BlockRow> used = new(joined.OfType<BlockRow>(), ReferenceEqualityComparer.Instance);
        foreach (BlockRow row in other.Rows.Where(row => !used.Contains(row)))
            notes.TellRow("key-unmatched", row);
        for (int i = 0; i < other.Columns.Count; i++)
        {
            if (theirs.Contains(i))
                continue;
            int column = i;
            Dictionary<BlockRow, BlockRow?> pairs = new(ReferenceEqualityComparer.Instance);
            for (int r = 0; r < joined.Length; r++)
                pairs[main.Rows[r]] = joined[r];
            TidyColumn added = other.Columns[i];
            if (main.Find(LayoutWords.Fold(added.Name)) is >= 0 and int same)
            {
                if (main.Rows.TrueForAll(row => pairs[row]?.Cells[column] is not { } cell
                    || (row.Cells[same] is { } ours && LayoutWords.Fold(ours.Value.Text) == LayoutWords.Fold(cell.Value.Text))))
                {
                    continue;
                }
                if (main.Sheet != other.Sheet && main.Sheet is not null)
                    main.Columns[same] = main.Columns[same] with { Name = $"{main.Columns[same].Name} ({main.Sheet})" };
                added = added with { Name = $"{added.Name} ({other.Sheet ?? other.Title?.Value.Text ?? "2"})" };
            }
            main.Add(added, row => pairs[row]?.Cells[column]);
        }
        notes.Tell("key-joined", other.Rows[0].First, other.Columns[theirs[0]].Name);
    }
}
