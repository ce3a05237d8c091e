using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning;

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
        IReadOnlyList<AskedColumn>? key = Best();
        if (key is not null)
        {
            if (!table.IsBurialRow)
                Duplicates(key);
            key = [.. key.Select(column => table.Columns[column.Ordinal])];
            Burials([.. key.Select(column => column.Name)]);
        }
        else
        {
            ByOrder();
        }
        foreach ((string field, string target) in new[] { (ColumnChoice.Replicate, "replicate"), (ColumnChoice.Plot, "plot") })
        {
            if (table.Of(field) is { } column && column.Distinct.All(text => text.Length <= 64))
                table.Draft.Bags[target] = MappingDraft.Column(column);
        }
    }

    // the fewest columns of which every burial has values of its own
    private AskedColumn[]? Best()
    {
        AskedColumn? site = table.Of(ColumnChoice.Site), plot = table.Of(ColumnChoice.Plot), burial = table.Of(ColumnChoice.Burial),
            number = table.Of(ColumnChoice.Number), bag = table.Of(ColumnChoice.Bag), replicate = table.Of(ColumnChoice.Replicate),
            treatment = table.Of(ColumnChoice.Treatment), buried = table.Of(ColumnChoice.Buried);
        AskedColumn?[][] ways =
        [
            [burial], [site, burial], [site, plot, burial], [plot, burial], [site, treatment, burial], [number], [bag], [replicate],
                [site, replicate], [site, number],
            [site, plot, replicate], [site, treatment, replicate], [plot, replicate], [plot, treatment, replicate], [site, bag],
                [site, plot, treatment, replicate],
            [site, buried, replicate], [plot], [site, plot], [site],
        ];
        (AskedColumn[] Columns, int Faults, int Groups)[] fits =
        [
            .. ways.Where(way => way.All(column => column is not null)).Select(way => way.OfType<AskedColumn>().ToArray())
                .Where(way => way.Distinct().Count() == way.Length && way.All(column => column.Filled == table.Rows.Count))
                .Select(way => (way, Faults(way, out int groups), groups)),
        ];
        AskedColumn[]? whole = fits.FirstOrDefault(fit => fit.Faults == 0).Columns;
        if (whole is not null)
            return whole;
        // a few rows that stand twice, among many that do not
        return fits.Where(fit => fit.Faults * 10 <= fit.Groups || (fit.Faults == 1 && fit.Groups >= 4)).OrderBy(fit => fit.Faults)
            .Select(fit => fit.Columns).FirstOrDefault();
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
                    [.. same.Select(row => new Choice(WideTable.RowName(table.Rows[row]),
                        _ask.Words.Say("ask.choice.row", table.SeenRow(row).Row, table.SeenRow(row).Text)))],
                    shown.Length == 1 ? WideTable.RowName(table.Rows[shown[0]]) : null, [.. same.Select(table.SeenRow)], what);
                int kept = answer is null ? same[0] : same.First(row => WideTable.RowName(table.Rows[row]) == answer);
                left.UnionWith(same.Where(row => row != kept));
            }
        }
        table.LeaveOut(left.Contains);
    }

    private void Burials(string[] columns)
    {
        table.Draft.Bags["burial_id"] = Id(columns, "");
        AskedColumn? own = new[] { table.Of(ColumnChoice.Bag), table.Of(ColumnChoice.Number) }.OfType<AskedColumn>()
            .FirstOrDefault(column =>
            !table.IsBurialRow && column.Filled == table.Rows.Count
            && Enumerable.Range(0, table.Rows.Count).Select(i => Identifier.Of(column.TextAt(i))).Where(id => id.Length > 0).Distinct()
                .Count() == table.Rows.Count);
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
            _ask.Tell("bag-ids", table.Rows.Count, [], string.Join(" + ", columns.Append(role?.Name ?? "")));
        }
        if (columns.Length > 1)
            _ask.Tell("burial-ids", table.Rows.Count, [], string.Join(" + ", columns));
    }

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
        if (table.IsBurialRow)
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
        string? answer = _ask.Choose(Interview.Meaning, "pairs", [_ask.Option("by-order", "pairs-by-order"),
            _ask.Option("unknown", "pairs-unknown")],
            HaveTheirNumber() || HaveEqualCounts(within) ? "by-order" : null, [.. Paired(within).Take(6).Select(table.SeenRow)]);
        if (answer == "unknown")
            table.IsHopeless = "no-pairs";
        AddCounter([.. within.Select(column => column.Name), role.Name]);
        Burials([.. within.Select(column => column.Name), Counter]);
    }

    private bool HaveEqualCounts(IReadOnlyList<AskedColumn> within) => Groups(within).Values.All(rows =>
        rows.Count(row => table.RoleOfRow[row] == LitterRole.Fast) == rows.Count(row => table.RoleOfRow[row] == LitterRole.Slow));

    // rows as they would be paired: the first fast, the first slow, and so on
    private IEnumerable<int> Paired(IReadOnlyList<AskedColumn> within) => Groups(within).Values.SelectMany(rows => rows
        .GroupBy(row => table.RoleOfRow[row]).SelectMany(own => own.OrderBy(row => row).Select((row, i) => (row, i)))
        .OrderBy(entry => entry.i).ThenBy(entry => table.RoleOfRow[entry.row]).Select(entry => entry.row));

    // whether the numbers in the names of bags, as 1S and 1L, say the same as the order of rows
    private bool HaveTheirNumber()
    {
        if ((table.Of(ColumnChoice.Bag) ?? table.Of(ColumnChoice.Number) ?? table.Of(ColumnChoice.Burial)) is not { } bag)
            return false;
        Dictionary<string, List<string>> byRole = [];
        for (int i = 0; i < table.Rows.Count; i++)
        {
            string role = $"{table.RoleOfRow[i]}";
            if (!byRole.TryGetValue(role, out List<string>? numbers))
                byRole[role] = numbers = [];
            numbers.Add(string.Concat(bag.TextAt(i).Where(char.IsAsciiDigit)));
        }
        return byRole.Count == 2 && byRole.Values.First().SequenceEqual(byRole.Values.Last());
    }

    private void AddCounter(string[] within) => table.Draft.File["count"] = new JsonArray(new JsonObject
    {
        ["name"] = Counter,
        ["within"] = new JsonArray([.. within.Select(name => JsonValue.Create(name))]),
    });
}
