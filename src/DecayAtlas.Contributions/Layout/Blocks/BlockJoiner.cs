namespace DecayAtlas.Contributions.Layout.Blocks;

/// <summary>Joins the tables of a file that belong together: below each other where they have the same names, beside each other where one
/// refers to the other by a column.</summary>
internal sealed class BlockJoiner(List<Block> blocks, LayoutNotes notes, ReadingTime time)
{
    /// <summary>Names of columns that are made here.</summary>
    public const string SheetColumn = "sheet", TitleColumn = "title";

    private const int MostFamilies = 100;

    private readonly List<Block> _left = [.. blocks];

    /// <summary>What was not joined with the main table.</summary>
    public IReadOnlyList<Block> Left => _left;

    /// <summary>Lines and pairs that became columns.</summary>
    public HashSet<TidyCell> Used { get; } = new(ReferenceEqualityComparer.Instance);

    public HashSet<NamedValue> UsedPairs { get; } = new(ReferenceEqualityComparer.Instance);

    /// <summary>The table that the file is about: tables with the same names as one.</summary>
    public Block Main()
    {
        foreach (Block block in _left.Where(block => block.IsOfHiddenSheet).DistinctBy(block => block.Sheet))
            notes.Tell("hidden-sheets", block.Rows[0].First, block.Sheet);
        List<List<Block>> families = [];
        foreach (Block block in _left)
        {
            time.Ask();
            // of more kinds of tables than this, none is what the file is about
            if (families.Take(MostFamilies).FirstOrDefault(family => IsAlike(family[0], block)) is { } known)
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
        CopiedTables copies = new(notes, time);
        if (main.Count > 1)
            main = copies.Without(main);
        if (main.Count > 1 && AreTheSameRecords(main))
        {
            // the others are joined by their key
            _left.InsertRange(0, main.Skip(1));
            main = [main[0]];
        }
        return copies.Counting(Stacked(OwnUnits.InCells(main, notes)), _left);
    }

    /// <summary>Tables that refer to the main one by a column, or by two.</summary>
    public void Beside(Block main)
    {
        foreach (Block other in _left.Take(MostFamilies).ToArray())
        {
            time.Ask();
            if (KeyOf(main, other) is { } key)
            {
                _left.Remove(other);
                Join(main, other, key, [.. key.Select(column => Alike(main, LayoutWords.Fold(other.Columns[column].Name)))]);
            }
            else if (KeyByValues(main, other) is var (own, theirs))
            {
                _left.Remove(other);
                Join(main, other, [theirs], [own]);
            }
        }
    }

    private static double Weight(List<Block> family)
    {
        double cells = family.Sum(block => (double)block.FilledCells);
        bool isOfMass = family[0].Columns.Any(column => LayoutWords.IsOfMass(column.Name) || LayoutWords.IsUnitOfMass(column.Unit));
        bool isHidden = family.TrueForAll(block => block.IsOfHiddenSheet);
        return cells * (isOfMass ? 50 : 1) * (isHidden ? 1e-6 : 1);
    }

    private static bool IsAlike(Block one, Block other)
    {
        HashSet<string> names = one.PlainNames, others = other.PlainNames;
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
        if (family.Count == 1 && !first.Rows.Exists(row => row.Title is not null))
            return first;
        bool hasSheets = family.Select(block => block.Sheet).Distinct().Count() > 1;
        List<TidyColumn> columns = [.. first.Columns];
        Dictionary<string, int> ordinals = [];
        for (int i = 0; i < columns.Count; i++)
            ordinals.TryAdd(LayoutWords.Fold(columns[i].Name), i);
        foreach (TidyColumn column in family.Skip(1).SelectMany(block => block.Columns))
        {
            if (ordinals.TryAdd(LayoutWords.Fold(column.Name), columns.Count))
                columns.Add(column);
        }
        Block stacked = new(first.Sheet, first.IsOfHiddenSheet, columns);
        List<Block> from = [];
        foreach (Block block in family)
        {
            int[] to = [.. block.Columns.Select(column => ordinals[LayoutWords.Fold(column.Name)])];
            foreach (BlockRow row in block.Rows)
            {
                TidyCell?[] cells = new TidyCell?[columns.Count];
                for (int i = 0; i < to.Length; i++)
                    cells[to[i]] = row.Cells[i];
                stacked.Rows.Add(row with { Cells = cells });
                from.Add(block);
            }
            if (family.Count > 1)
            {
                notes.Tell(hasSheets ? "sheets-joined" : "tables-joined", block.Rows[0].First,
                    hasSheets ? block.Sheet : block.Title?.Value.Text);
            }
        }
        AddSaidAbove(stacked, family, from, hasSheets);
        return stacked;
    }

    // What stands over each of several tables tells their rows apart.
    private void AddSaidAbove(Block stacked, List<Block> family, List<Block> from, bool hasSheets)
    {
        CellPlace at = stacked.Columns[0].Place;
        if (hasSheets)
        {
            Add(SheetColumn, (row, block) => block.Sheet is { } sheet && row.First is { } cell ? new TidyCell(SheetCell.OfText(sheet),
                cell.Place, null) : null);
        }
        // of tables beside each other only what stands in one row is said of each
        bool areBeside = family.Select(block => (block.Sheet, block.Columns[0].Place.Row)).Distinct().Count() == 1;
        Dictionary<Block, TidyCell[]> above = family.ToDictionary(block => block, block => block.LinesAbove.Where(line => !areBeside
            || family.TrueForAll(other => other.LinesAbove.Any(one => one.Place.Row == line.Place.Row))).ToArray());
        int most = family.Count > 1 ? Math.Min(3, above.Values.Max(lines => lines.Length)) : 0;
        for (int back = 1; back <= most; back++)
        {
            int nth = back;
            int different = family.Select(block => Line(block)?.Value.Text).Distinct().Count(text => text is not null || nth == 1);
            if (different < 2)
                continue;
            Add(TitleColumn, (_, block) => Line(block));
            Used.UnionWith(family.Select(Line).OfType<TidyCell>());

            TidyCell? Line(Block block) => above[block].Length < nth ? null : above[block][^nth];
        }
        if (stacked.Rows.Exists(row => row.Title is not null))
            Add(TitleColumn, (row, _) => row.Title);
        if (family.Count < 2)
            return;
        foreach (string name in family.SelectMany(block => block.PairsAbove.Select(pair =>
            LayoutWords.Fold(pair.Name.Value.Text)).Distinct())
            .GroupBy(name => name).Where(group => group.Count() > 1).Select(group => group.Key))
        {
            NamedValue[] pairs = [.. family.SelectMany(block => block.PairsAbove).Where(pair =>
                LayoutWords.Fold(pair.Name.Value.Text) == name)];
            Add(pairs[0].Name.Value.Text, (_, block) => block.PairsAbove.FirstOrDefault(pairs.Contains)?.Value);
            UsedPairs.UnionWith(pairs);
        }

        void Add(string name, Func<BlockRow, Block, TidyCell?> cellOf)
        {
            int row = 0;
            stacked.Add(new TidyColumn(name, null, at), one => cellOf(one, from[row++]));
        }
    }

    private static int[]? KeyOf(Block main, Block other)
    {
        if (other.Rows.Count == 0 || other.Columns.Count < 2)
            return null;
        string[] shared = [.. other.FoldedNames.Where(name => Alike(main, name) >= 0).Take(8)];
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

    // The column of that name, or of the name with a word for number after it.
    private static int Alike(Block block, string name)
    {
        int same = block.Find(name);
        if (same >= 0)
            return same;
        string stem = Stem(name);
        int[] alike = [.. Enumerable.Range(0, block.Columns.Count).Where(i => Stem(LayoutWords.Fold(block.Columns[i].Name)) == stem)];
        return stem.Length > 2 && alike.Length == 1 ? alike[0] : -1;
    }

    private static string Stem(string name) => string.Join(' ', name.Split([' ', '-', '_', '.', ':'], StringSplitOptions.RemoveEmptyEntries)
        .Where(word => !NumberWords.Contains(word)));

    private static readonly HashSet<string> NumberWords = ["nr", "no", "num", "number", "nummer", "numero", "n°", "nº", "#", "id"];

    // Each key once in the other table, and most rows of the main one have theirs there.
    private static bool Fits(Block main, Block other, string[] names)
    {
        int[] own = [.. names.Select(name => Alike(main, name))], theirs = [.. names.Select(other.Find)];
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

    // As it is read by a person: Haie/talus nord is Haie / Talus Nord.
    private static string? Key(BlockRow row, int[] columns)
    {
        string key = "";
        foreach (int column in columns)
        {
            if (row.Cells[column] is not { } cell || cell.Value.Text.Trim().Length == 0)
                return null;
            string folded = LayoutWords.Fold(cell.Value.Text);
            string letters = string.Concat(folded.Where(char.IsLetterOrDigit));
            // 007 is 7
            if (letters.Length > 0 && letters.All(char.IsAsciiDigit))
                letters = letters.TrimStart('0').PadLeft(1, '0');
            key += "\u0001" + (letters.Length == 0 ? folded : letters);
        }
        return key;
    }

    // masses of a laboratory that has another name for the bag: two columns with the same values, each of them once, are asked about
    private (int Own, int Theirs)? KeyByValues(Block main, Block other)
    {
        if (other.Columns.Count < 2 || other.Rows.Count < FewestOfKey || !other.Columns.Any(column => LayoutWords.IsOfMass(column.Name)
            || LayoutWords.IsUnitOfMass(column.Unit)))
        {
            return null;
        }
        (int Own, int Theirs)[] alike = [.. from own in Names(main)
                                            from theirs in Names(other)
                                            where Agree(own, theirs)
                                            select (own, theirs)];
        if (alike is not [var (first, second)])
            return null;
        TidyCell[] seen = [.. other.Rows.Take(4).Select(row => row.Cells[second]).OfType<TidyCell>()];
        return notes.Ask("key-by-values", $"{main.Columns[first].Name} / {other.Columns[second].Name}", other.Rows.Count, seen, "join",
            "leave") == "join" ? (first, second) : null;

        static int[] Names(Block block) => [.. Enumerable.Range(0, block.Columns.Count).Where(i =>
            !LayoutWords.IsUnitOfMass(block.Columns[i].Unit) && !LayoutWords.IsOfMass(block.Columns[i].Name)
            && block.Rows.Select(row => Key(row, [i])).Distinct().Count() == block.Rows.Count)];

        bool Agree(int own, int theirs)
        {
            HashSet<string?> keys = [.. main.Rows.Select(row => Key(row, [own]))];
            int found = other.Rows.Count(row => Key(row, [theirs]) is { } key && keys.Contains(key));
            return found >= 0.8 * other.Rows.Count && found >= 0.5 * main.Rows.Count;
        }
    }

    private const int FewestOfKey = 3;

    private void Join(Block main, Block other, int[] theirs, int[] own)
    {
        Dictionary<string, BlockRow> byKey = [];
        foreach (BlockRow row in other.Rows)
        {
            if (Key(row, theirs) is { } key)
                byKey[key] = row;
        }
        BlockRow?[] joined = [.. main.Rows.Select(row => Key(row, own) is { } key ? byKey.GetValueOrDefault(key) : null)];
        if (!AreMeant(main, other, own, theirs, joined))
        {
            _left.Add(other);
            return;
        }
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

    // Names that are not written alike are asked about once for all.
    private bool AreMeant(Block main, Block other, int[] own, int[] theirs, BlockRow?[] joined)
    {
        Dictionary<string, TidyCell> unlike = [];
        for (int i = 0; i < joined.Length; i++)
        {
            for (int k = 0; joined[i] is { } row && k < own.Length; k++)
            {
                TidyCell ours = main.Rows[i].Cells[own[k]]!;
                if (ours.Value.Text.Trim().TrimStart('0') != row.Cells[theirs[k]]!.Value.Text.Trim().TrimStart('0'))
                    unlike.TryAdd($"{ours.Value.Text.Trim()} = {row.Cells[theirs[k]]!.Value.Text.Trim()}", ours);
            }
        }
        if (unlike.Count == 0)
            return true;
        foreach ((string pair, TidyCell cell) in unlike)
            notes.Tell("key-alike", cell, pair);
        return notes.Ask("key-alike", other.Columns[theirs[0]].Name, unlike.Count,
            unlike.Select(one => one.Value with { Value = SheetCell.OfText(one.Key) }), "join", "leave") == "join";
    }
}
