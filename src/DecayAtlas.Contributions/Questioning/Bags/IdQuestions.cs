using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Bags;

/// <summary>Finds the columns that name a burial and a bag, or makes names of the order of rows; asks which of two rows counts where one
/// bag stands twice.</summary>
internal sealed class IdQuestions(AskedTable table)
{
    private const string Counter = "pair";

    private readonly Interview _ask = table.Ask;

    public void Make()
    {
        // which bags lay together can only be seen when the litter of each is known
        if (!table.IsBurialRow && !table.RoleOfRow.Any(role => role is not null))
            return;
        (AskedColumn[]? whole, AskedColumn[]? near) = Best();
        if (whole is { Length: 1 } || !Repeat(whole, near))
            ByColumns(whole ?? near);
        foreach ((string field, string target) in new[] { (ColumnChoice.Replicate, "replicate"), (ColumnChoice.Plot, "plot") })
        {
            if (table.Of(field) is { } column && column.Distinct.All(text => text.Length <= 64))
                table.Draft.Bags[target] = MappingDraft.Column(column);
        }
    }

    private void ByColumns(IReadOnlyList<AskedColumn>? key)
    {
        if (key is null)
        {
            ByOrder();
            return;
        }
        if (!table.IsBurialRow)
            Duplicates(key);
        Burials([.. key.Select(column => table.Columns[column.Ordinal].Name)]);
    }

    // holes whose numbers stand more than once, where columns as they are known do not say why; false where there is none such
    private bool Repeat(AskedColumn[]? whole, AskedColumn[]? near)
    {
        RepeatedHoles repeated = new(table);
        // what tells all but a few apart has said where numbers begin anew
        if (repeated.Column() is not { } hole || (whole is not null && !whole.Contains(hole)) || near is { Length: > 1 })
            return false;
        IReadOnlyList<RepeatedHoles.Way> ways = repeated.Ways(hole);
        if (whole is not null ? ways.Count < 2 : ways.Count == 0 && repeated.IsPlot(hole))
            return false;
        bool areAgain = repeated.AreWeighedAgain(hole);
        if (whole is null && near is null && ways is [var only] && only.Columns.All(column => column.Filled == table.Rows.Count)
            && !areAgain)
        {
            Take(only);
            return true;
        }
        bool mayBeginAnew = repeated.MayBeginAnew(hole);
        // rows of whole burials are right whatever their names
        if (ways.Count == 0 && (near is not null || table.IsBurialRow))
            return false;
        if (ways.Count == 0 && !mayBeginAnew && areAgain)
        {
            ByColumns([hole]);
            return true;
        }
        List<Choice> choices = [.. ways.Select(way => _ask.Option(NameOf(way), "holes-within",
            Named([.. way.Columns[..^1].Select(column => column.Name)])))];
        if (!table.IsBurialRow)
            choices.Add(_ask.Option("twice", "holes-twice"));
        if (mayBeginAnew && ways.Count == 0)
            choices.Add(_ask.Option("anew", "holes-anew"));
        choices.Add(_ask.Option("no-hole", "holes-none", hole.Name));
        string likely = areAgain && !table.IsBurialRow ? "twice" : ways.Count == 0 ? mayBeginAnew ? "anew" : "twice" : NameOf(ways[0]);
        string answer = _ask.Choose(Interview.Meaning, "holes-again", choices, likely,
            [.. Enumerable.Range(0, table.Rows.Count).GroupBy(hole.TextAt).First(rows => rows.GroupBy(row => table.RoleOfRow[row])
                .Any(own => own.Count() > 1)).Select(table.SeenRow)], hole.Name) ?? likely;
        if (answer == "no-hole")
            ByOrder();
        else if (answer == "twice" && _ask.IsOpen("holes-again"))
            Burials([hole.Name]);
        else if (answer == "twice")
            ByColumns(near ?? [hole]);
        else if (answer == "anew")
            ByCounter([hole]);
        else
            Take(ways.First(way => NameOf(way) == answer));
        return true;
    }

    private static string NameOf(RepeatedHoles.Way way) =>
        "within:" + string.Join(" + ", way.Columns[..^1].Select(column => column.Name.Trim()));

    private void Take(RepeatedHoles.Way way)
    {
        string[] columns = [.. way.Columns.Select(column => column.Name)];
        if (new RepeatedHoles(table).AreNames(way))
        {
            Burials(columns);
            return;
        }
        ByRow(way.Keys);
        _ask.Tell("burial-ids", table.Rows.Count, [], Named(columns));
    }

    // the fewest columns of which every burial has values of its own, or all but a few
    private (AskedColumn[]? Whole, AskedColumn[]? Near) Best()
    {
        AskedColumn? site = table.Of(ColumnChoice.Site), plot = table.Of(ColumnChoice.Plot), burial = table.Of(ColumnChoice.Burial),
            number = table.Of(ColumnChoice.Number), bag = table.Of(ColumnChoice.Bag), replicate = table.Of(ColumnChoice.Replicate),
            treatment = table.Of(ColumnChoice.Treatment), buried = table.Of(ColumnChoice.Buried),
            retrieved = table.Of(ColumnChoice.Retrieved);
        AskedColumn?[][] ways =
        [
            [burial], [site, burial], [site, plot, burial], [plot, burial], [site, treatment, burial], [number], [bag], [replicate],
                [site, replicate], [site, number],
            [site, plot, replicate], [site, treatment, replicate], [plot, replicate], [plot, treatment, replicate], [site, bag],
                [site, plot, treatment, replicate],
            [site, buried, replicate],
            // numbers that begin anew with each day of digging
            [burial, retrieved], [site, burial, retrieved], [number, retrieved], [site, number, retrieved], [replicate, retrieved],
            [site, replicate, retrieved], [plot], [site, plot], [site],
        ];
        (AskedColumn[] Columns, int Faults, int Groups)[] fits =
        [
            .. ways.Where(way => way.All(column => column is not null)).Select(way => way.OfType<AskedColumn>().ToArray())
                .Where(way => way.Distinct().Count() == way.Length && way.All(column => column.Filled == table.Rows.Count))
                .Select(way => (way, Faults(way, out int groups), groups)),
        ];
        AskedColumn[]? whole = fits.FirstOrDefault(fit => fit.Faults == 0).Columns;
        if (whole is not null)
            return (whole, null);
        // a few rows that stand twice, among many that do not
        return (null, fits.Where(fit => fit.Faults * 10 <= fit.Groups || (fit.Faults == 1 && fit.Groups >= 4)).OrderBy(fit => fit.Faults)
            .Select(fit => fit.Columns).FirstOrDefault());
    }

    // groups that are no burial: with two bags of one litter; all, where most have one bag only
    private int Faults(AskedColumn[] columns, out int groups)
    {
        List<int>[] all = [.. Groups(columns).Values];
        groups = all.Length;
        if (table.IsBurialRow)
            return all.Count(rows => rows.Count > 1);
        bool arePairs = all.Count(rows => rows.Select(row => table.RoleOfRow[row]).OfType<LitterRole>().Distinct()
            .Count() == 2) * 2 > all.Length;
        return arePairs || all.Length == 1 ? all.Count(rows => rows.GroupBy(row => table.RoleOfRow[row]).Any(own => own.Count() > 1))
            : int.MaxValue / 20;
    }

    private Dictionary<string, List<int>> Groups(IReadOnlyList<AskedColumn> columns)
    {
        Dictionary<string, List<int>> groups = [];
        for (int i = 0; i < table.Rows.Count; i++)
        {
            string key = string.Join('-', columns.Select(column => column.TextAt(i)));
            if (!groups.TryGetValue(key, out List<int>? rows))
                groups[key] = rows = [];
            rows.Add(i);
        }
        return groups;
    }

    private void Duplicates(IReadOnlyList<AskedColumn> key)
    {
        HashSet<int> left = [];
        foreach ((string name, List<int> rows) in Groups(key))
        {
            foreach (int[] same in rows.GroupBy(row => table.RoleOfRow[row]).Select(own => own.ToArray()).Where(own => own.Length > 1))
            {
                string what = $"{name} {_ask.Words[table.RoleOfRow[same[0]] == LitterRole.Slow ? "ask.slow" : "ask.fast"]}";
                // two rows that say the same are one
                if (same.Select(row => string.Join('\n', table.Rows[row].Select(AskedColumn.TextOf))).Distinct().Count() == 1)
                {
                    left.UnionWith(same.Skip(1));
                    _ask.Tell("same-rows", same.Length - 1, [.. same.Select(table.SeenRow)], what);
                    continue;
                }
                int[] shown = [.. same.Where(row => !table.Rows[row].All(cell => cell.Look is { IsHidden: true }
                    || cell.Value.Kind == SheetCellKind.Empty))];
                string? answer = _ask.Choose(Interview.Meaning, "twice:" + what,
                    [.. same.Select(row => new Choice(table.RowNames[row],
                        _ask.Words.Say("ask.choice.row", table.SeenRow(row).Row, table.SeenRow(row).Text)))],
                    shown.Length == 1 ? table.RowNames[shown[0]] : null, [.. same.Select(table.SeenRow)], what);
                int kept = answer is null ? same[0] : same.First(row => table.RowNames[row] == answer);
                left.UnionWith(same.Where(row => row != kept));
            }
        }
        table.LeaveOut(left.Contains);
    }

    private void Burials(string[] columns)
    {
        table.Draft.Bags["burial_id"] = Id(columns, "");
        AskedColumn? own = OwnName();
        if (own is not null)
        {
            table.Draft.Bags["bag_id"] = Id([own.Name], "");
        }
        else if (table.IsBurialRow)
        {
            table.Draft.Fast["bag_id"] = Id(columns, "-F");
            table.Draft.Slow["bag_id"] = Id(columns, "-S");
        }
        else
        {
            AskedColumn? role = table.Of(ColumnChoice.Role) ?? table.Of(ColumnChoice.Lot);
            table.Draft.Bags["bag_id"] = Id(role is null ? columns : [.. columns, role.Name], "");
            _ask.Tell("bag-ids", table.Rows.Count, [], Named([.. columns, .. role is null ? [] : new[] { role.Name }]));
        }
        if (columns.Length > 1)
            _ask.Tell("burial-ids", table.Rows.Count, [], Named(columns));
    }

    private string Named(string[] columns)
    {
        string[] names = [.. columns.Select(name => name == Counter ? _ask.Words["ask.pair-counter"] : name)];
        return names.Length == 1 ? names[0] : _ask.Words.Say("ask.and", string.Join(", ", names[..^1]), names[^1]);
    }

    // the column that names each bag by itself
    private AskedColumn? OwnName() => new[] { table.Of(ColumnChoice.Bag), table.Of(ColumnChoice.Number) }.OfType<AskedColumn>()
        .FirstOrDefault(column => !table.IsBurialRow && column.Filled == table.Rows.Count
            && Enumerable.Range(0, table.Rows.Count).Select(i => Identifier.Of(column.TextAt(i))).Where(id => id.Length > 0).Distinct()
                .Count() == table.Rows.Count);

    private static JsonObject Id(string[] columns, string end)
    {
        JsonObject source = columns.Length == 1 && end.Length == 0 ? new JsonObject { ["column"] = columns[0] }
            : new JsonObject { ["pattern"] = string.Join('-', columns.Select(name => $"{{{name}}}")) + end };
        source["form"] = "id";
        return source;
    }

    // without a name for what lay together it can only be the order of rows, and that is asked
    private void ByOrder()
    {
        AskedColumn[] within = [.. new[] { table.Of(ColumnChoice.Site), table.Of(ColumnChoice.Plot),
            table.Of(ColumnChoice.Treatment) }.OfType<AskedColumn>()
            .Where(column => column.Filled == table.Rows.Count)];
        // a row is a burial too where there is no other litter
        if (table.IsBurialRow || LitterColumn.OnlyRole(table) is not null)
        {
            AddCounter([.. within.Select(column => column.Name)]);
            Burials([.. within.Select(column => column.Name), Counter]);
            return;
        }
        AskedColumn? role = table.Of(ColumnChoice.Role) ?? table.Of(ColumnChoice.Lot);
        // bags of one day lay together before those of another
        AskedColumn[] days = [.. within, .. new[] { table.Of(ColumnChoice.Buried) }.OfType<AskedColumn>()
            .Where(column => column.Filled == table.Rows.Count && column.Distinct.Count > 1)];
        if (HaveEqualCounts(days))
            within = days;
        if (role is null)
        {
            table.IsHopeless = "no-role";
            return;
        }
        if (ByUnnamed())
            return;
        PairedBags paired = new(table);
        if (paired.ByNumber() is { } byNumber)
        {
            Offer("by-number", byNumber.Keys, Example(byNumber.Column, byNumber.Keys));
            return;
        }
        // pairs by order are right only where no bag is missing
        bool isWhole = HaveEqualCounts(within);
        if (paired.ByNeighbour(row => string.Join('\n', within.Select(column => column.TextAt(row)))) is { } next
            && !(isWhole && PairedBags.AreSame(next, OrderKeys(within))))
        {
            Offer("next", next, []);
            return;
        }
        if (!isWhole)
        {
            table.IsHopeless = "no-pairs";
            return;
        }
        string? answer = _ask.Choose(Interview.Meaning, "pairs", [_ask.Option("by-order", "pairs-by-order"),
            _ask.Option("unknown", "pairs-unknown")], "by-order", [.. Paired(within).Take(6).Select(table.SeenRow)]);
        if (answer == "unknown")
            table.IsHopeless = "no-pairs";
        ByCounter(within);
    }

    // the first fast bag with the first slow one, and so on
    private void ByCounter(AskedColumn[] within)
    {
        AskedColumn role = table.Of(ColumnChoice.Role) ?? table.Of(ColumnChoice.Lot)!;
        AddCounter([.. within.Select(column => column.Name), role.Name]);
        Burials([.. within.Select(column => column.Name), Counter]);
    }

    // a column without a known name whose values put a fast and a slow bag together; never the order beside it
    private bool ByUnnamed()
    {
        IReadOnlyList<RepeatedHoles.Way> ways = new RepeatedHoles(table).Unnamed();
        if (ways.Count == 0)
            return false;
        string? answer = _ask.Choose(Interview.Meaning, "pairs",
            [
                .. ways.Select(way => _ask.Option(ColumnOf(way), "pairs-column", way.Columns[0].Name)),
                _ask.Option("by-order", "pairs-by-order"), _ask.Option("unknown", "pairs-unknown"),
            ],
            ColumnOf(ways[0]), [.. Enumerable.Range(0, table.Rows.Count).GroupBy(row => ways[0].Keys[row]).Take(3)
                .SelectMany(rows => rows).Select(table.SeenRow)]);
        if (answer is "by-order" or "unknown")
            return false;
        Take(ways.FirstOrDefault(way => answer == ColumnOf(way)) ?? ways[0]);
        return true;

        static string ColumnOf(RepeatedHoles.Way way) => "column:" + way.Columns[0].Name.Trim();
    }

    // burials named row by row, when the sender says that they are right
    private void Offer(string way, string[] keys, object?[] example)
    {
        int[] shown = [.. Enumerable.Range(0, keys.Length).GroupBy(row => keys[row]).Where(own => own.Count() == 2).Take(3)
            .SelectMany(own => own)];
        string? answer = _ask.Choose(Interview.Meaning, "pairs", [_ask.Option(way, "pairs-" + way, example),
            _ask.Option("unknown", "pairs-unknown")], way, [.. shown.Select(table.SeenRow)]);
        if (answer == "unknown")
            table.IsHopeless = "no-pairs";
        ByRow(keys);
    }

    private void ByRow(string[] keys)
    {
        AskedColumn at = table.Of(ColumnChoice.Role) ?? table.Of(ColumnChoice.Lot)!;
        string[] ids = IdsOf(keys);
        JsonObject burial = MappingDraft.Column(at), bag = MappingDraft.Column(at);
        burial["form"] = "listed";
        bag["form"] = "listed";
        for (int row = 0; row < keys.Length; row++)
        {
            MappingDraft.SetRow(burial, table.RowNames[row], at.TextAt(row), ids[row]);
            MappingDraft.SetRow(bag, table.RowNames[row], at.TextAt(row),
                ids[row] + (table.RoleOfRow[row] == LitterRole.Slow ? "-S" : "-F"));
        }
        table.Draft.Bags["burial_id"] = burial;
        table.Draft.Bags["bag_id"] = OwnName() is { } own ? Id([own.Name], "") : bag;
    }

    // an id of each key; running numbers where keys are too long or too much alike for that
    private static string[] IdsOf(string[] keys)
    {
        string[] ids = [.. keys.Select(Identifier.Of)];
        if (PairedBags.AreSame(keys, ids) && Array.TrueForAll(ids, id => id.Length is > 0 and <= LongestId))
            return ids;
        List<string> known = [.. keys.Distinct()];
        return [.. keys.Select(key => Invariant($"pair-{known.IndexOf(key) + 1}"))];
    }

    // with the end of a bag's own
    private const int LongestId = 60;

    private static object?[] Example(AskedColumn column, string[] keys) => [.. Enumerable.Range(0, keys.Length)
        .GroupBy(row => keys[row]).First(own => own.Count() == 2).Select(column.TextAt)];

    // what would lie together by order, row by row
    private string[] OrderKeys(IReadOnlyList<AskedColumn> within)
    {
        string[] keys = new string[table.Rows.Count];
        foreach ((string name, List<int> rows) in Groups(within))
        {
            foreach (IGrouping<LitterRole?, int> own in rows.GroupBy(row => table.RoleOfRow[row]))
            {
                foreach ((int i, int row) in own.Order().Index())
                    keys[row] = Invariant($"{name}\n{i}");
            }
        }
        return keys;
    }

    private bool HaveEqualCounts(IReadOnlyList<AskedColumn> within) => Groups(within).Values.All(rows =>
        rows.Count(row => table.RoleOfRow[row] == LitterRole.Fast) == rows.Count(row => table.RoleOfRow[row] == LitterRole.Slow));

    // rows as they would be paired: the first fast, the first slow, and so on
    private IEnumerable<int> Paired(IReadOnlyList<AskedColumn> within) => Groups(within).Values.SelectMany(rows => rows
        .GroupBy(row => table.RoleOfRow[row]).SelectMany(own => own.OrderBy(row => row).Select((row, i) => (row, i)))
        .OrderBy(entry => entry.i).ThenBy(entry => table.RoleOfRow[entry.row]).Select(entry => entry.row));

    private void AddCounter(string[] within) => table.Draft.File["count"] = new JsonArray(new JsonObject
    {
        ["name"] = Counter,
        ["within"] = new JsonArray([.. within.Select(name => JsonValue.Create(name))]),
    });
}
