namespace DecayAtlas.Contributions.Questioning.Bags;

/// <summary>Numbers of holes that stand more than once: begun anew in each class, garden or block, or of bags that were weighed
/// again.</summary>
internal sealed class RepeatedHoles(AskedTable table)
{
    /// <summary>Columns that tell holes of one number apart, and the burial of each row by them.</summary>
    internal sealed record Way(AskedColumn[] Columns, string[] Keys);

    // columns held against each other two by two, of as many; a person has fewer that may be meant
    private const int MostBeside = 12;

    // what a hole has, and not a bag
    private static readonly string[] OfHoles =
    [
        ColumnChoice.Site, ColumnChoice.Plot, ColumnChoice.Treatment, ColumnChoice.Burial, ColumnChoice.Replicate, ColumnChoice.Number,
        ColumnChoice.Bag, ColumnChoice.Depth, ColumnChoice.Ecosystem, ColumnChoice.LandUse, ColumnChoice.Management,
        ColumnChoice.Elevation, ColumnChoice.Country, ColumnChoice.Buried, ColumnChoice.Retrieved,
    ];

    // what tells where a hole is, and is no part of its name
    private static readonly string[] OfPlaces =
        [ColumnChoice.Latitude, ColumnChoice.Longitude, ColumnChoice.Position, ColumnChoice.Easting, ColumnChoice.Northing];

    private string FieldOf(AskedColumn column) => table.Chosen.Where(entry => entry.Value.Ordinal == column.Ordinal)
        .Select(entry => entry.Key.Field).Order(StringComparer.Ordinal).FirstOrDefault("");

    /// <summary>The column whose numbers say what lay together where they stand once; null where none does.</summary>
    public AskedColumn? Column() => new[] { ColumnChoice.Burial, ColumnChoice.Replicate, ColumnChoice.Number, ColumnChoice.Plot }
        .Select(field => table.Of(field)).OfType<AskedColumn>().FirstOrDefault(column => column.Filled == table.Rows.Count
            && (table.IsBurialRow || PairsIn(Keys([column])).Pairs * 2 > column.Distinct.Count));

    /// <summary>A plot holds many holes that may have no number at all.</summary>
    public bool IsPlot(AskedColumn hole) => FieldOf(hole) == ColumnChoice.Plot;

    /// <summary>Whether the bags that stand twice weighed the same before they were buried, most of them: then they are the same bags.
    /// </summary>
    public bool AreWeighedAgain(AskedColumn hole)
    {
        if (table.Of(ColumnChoice.Initial, table.IsBurialRow ? LitterRole.Fast : null) is not { } first)
            return false;
        int[][] twice = [.. Repeated(hole)];
        return twice.Count(rows => rows.Select(first.TextAt).Distinct().Count() < rows.Length) * 2 > twice.Length;
    }

    /// <summary>Whether each number has as many fast bags as slow ones.</summary>
    public bool MayBeginAnew(AskedColumn hole) => !table.IsBurialRow && RowsOf(Keys([hole])).All(rows =>
        rows.Count(row => table.RoleOfRow[row] == LitterRole.Fast) == rows.Count(row => table.RoleOfRow[row] == LitterRole.Slow));

    /// <summary>Columns beside the numbers by which each burial has one bag of a litter, the fewest and most telling first, one for each
    /// way to put bags together.</summary>
    public IReadOnlyList<Way> Ways(AskedColumn hole)
    {
        AskedColumn[] beside = [.. table.Columns.Where(column => column.Ordinal != hole.Ordinal && MayTell(column))
            .OrderBy(column => Array.IndexOf(OfPlaces, FieldOf(column)) >= 0).ThenBy(column => column.Filled < table.Rows.Count)
            .ThenBy(column => !column.IsWords)];
        List<Way> ways = Fitting(beside.Select(column => new[] { column, hole }));
        if (ways.Count > 0)
            return ways;
        beside = [.. beside.Where(column => column.Filled == table.Rows.Count).Take(MostBeside).OrderBy(column => column.Ordinal)];
        return Fitting(beside.SelectMany((first, i) => beside.Skip(i + 1).Select(second => new[] { first, second, hole })));
    }

    /// <summary>Columns of which nobody knows what they are, and whose values pair the bags.</summary>
    public IReadOnlyList<Way> Unnamed() => Fitting(table.Columns.Where(column => FieldOf(column).Length == 0
        && column.Filled == table.Rows.Count && MayTell(column)).Select(column => new[] { column }));

    // most burials with both bags, as many as any other way has
    private List<Way> Fitting(IEnumerable<AskedColumn[]> all)
    {
        List<(Way Way, int Pairs)> found = [];
        foreach (AskedColumn[] columns in all)
        {
            string[] keys = Keys(columns);
            (int pairs, int groups, bool isExact) = PairsIn(keys);
            if (isExact && (table.IsBurialRow || (pairs * 2 > groups && ArePairedWhereBlank(columns, keys)))
                && !found.Exists(other => other.Pairs == pairs && PairedBags.AreSame(other.Way.Keys, keys)))
            {
                found.Add((new Way(columns, keys), pairs));
            }
        }
        int most = found.Select(way => way.Pairs).DefaultIfEmpty().Max();
        return [.. found.Where(way => way.Pairs == most).Select(way => way.Way)];
    }

    // a cell that somebody forgot is no group of its own
    private bool ArePairedWhereBlank(AskedColumn[] columns, string[] keys) => columns.All(column => column.Filled == table.Rows.Count
        || RowsOf(keys).Where(rows => column.TextAt(rows[0]).Length == 0).All(rows => rows.Length == 2));

    private bool MayTell(AskedColumn column) => !column.IsHidden && column.Filled > 0 && !column.Header.IsOfWeighing
        && column.Distinct.Count + (column.Filled < table.Rows.Count ? 1 : 0) is > 1 and < AskedColumn.MostDistinct
        && !column.Sense.HasAny(Concept.Notes, Concept.Condition, Concept.Mass, Concept.First, Concept.Last, Concept.Tare)
        && !column.Name.StartsWith(RowLooks.CommentColumn, StringComparison.Ordinal)
        && !column.Name.StartsWith(RowLooks.ColourColumn, StringComparison.Ordinal)
        && (FieldOf(column) is var field && field.Length == 0 ? !column.IsDates
            : Array.IndexOf(OfHoles, field) >= 0 || Array.IndexOf(OfPlaces, field) >= 0);

    // the name of a place or person as the running number of it
    private string[] Keys(AskedColumn[] columns)
    {
        bool[] areCounted = Array.ConvertAll(columns, column => Array.IndexOf(OfPlaces, FieldOf(column)) >= 0
            || column.Sense.Has(Concept.Person));
        Dictionary<string, int>[] known = Array.ConvertAll(columns, _ => new Dictionary<string, int>());
        return [.. Enumerable.Range(0, table.Rows.Count).Select(row => string.Join('-', columns.Select((column, i) =>
        {
            string text = column.TextAt(row);
            if (!areCounted[i])
                return text;
            known[i].TryAdd(text, known[i].Count + 1);
            return Invariant($"{known[i][text]}");
        })))];
    }

    private IEnumerable<int[]> Repeated(AskedColumn hole) => RowsOf(Keys([hole])).SelectMany(rows =>
        rows.GroupBy(row => table.RoleOfRow[row]).Select(own => own.ToArray())).Where(own => own.Length > 1);

    private static IEnumerable<int[]> RowsOf(string[] keys) =>
        Enumerable.Range(0, keys.Length).GroupBy(row => keys[row]).Select(rows => rows.ToArray());

    private (int Pairs, int Groups, bool IsExact) PairsIn(string[] keys)
    {
        int pairs = 0, groups = 0;
        bool isExact = true;
        foreach (int[] rows in RowsOf(keys))
        {
            groups++;
            int fast = rows.Count(row => table.RoleOfRow[row] == LitterRole.Fast),
                slow = rows.Count(row => table.RoleOfRow[row] == LitterRole.Slow);
            pairs += fast > 0 && slow > 0 ? 1 : 0;
            isExact &= table.IsBurialRow ? rows.Length == 1 : fast <= 1 && slow <= 1;
        }
        return (pairs, groups, isExact);
    }

    /// <summary>Whether a burial may be named by what stands in these columns.</summary>
    public bool AreNames(Way way) => way.Columns.All(column => column.Filled == table.Rows.Count
        && Array.IndexOf(OfPlaces, FieldOf(column)) < 0 && !column.Sense.Has(Concept.Person))
        && Array.ConvertAll(way.Keys, Identifier.Of) is var ids && PairedBags.AreSame(way.Keys, ids);
}
