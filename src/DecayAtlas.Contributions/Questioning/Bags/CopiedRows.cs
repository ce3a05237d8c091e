using System.Globalization;
using MathNet.Numerics.Statistics;

namespace DecayAtlas.Contributions.Questioning.Bags;

/// <summary>Finds the same weighings twice: a fair copy below a field book, or on another sheet. What was measured is hardly the same
/// again, so that which of the two counts is asked, whatever the two are called. So is k with its S.</summary>
/// <param name="areRates">Of a table of nothing but k and S, where a row is a hole.</param>
internal sealed class CopiedRows(AskedTable table, bool areRates = false)
{
    // how many holes of a table may be alike by chance before one that is tells nothing (common practice, no source)
    private const double MostByChance = 0.05;

    // Of the rows of a copy, how many are alike to the last digit (common practice, no source); the others were corrected in it.
    private const double MostlyAlike = 0.5;

    // Rows that may have been corrected in a copy; of more, each held against each, it is none that a person made.
    private const int MostCorrected = 500;

    private readonly Interview _ask = table.Ask;
    private readonly AskedColumn[] _masses =
    [
        .. table.Chosen.Where(entry => areRates ? entry.Key.Field is ColumnChoice.Rate or ColumnChoice.Stabilisation
            : entry.Key.Field is ColumnChoice.Initial or ColumnChoice.Final or ColumnChoice.Loss or ColumnChoice.Remaining)
            .OrderBy(entry => entry.Value.Ordinal).Select(entry => entry.Value).Distinct(),
    ];

    private readonly Dictionary<(string Litter, int Mass), double> _alikeByChance = [];

    private readonly int _rowsOfHole = table.IsBurialRow || areRates ? 1 : 2;

    private readonly AskedColumn[] _names =
    [
        .. table.Chosen.Where(entry => entry.Key.Field is ColumnChoice.Burial or ColumnChoice.Bag or ColumnChoice.Number
            or ColumnChoice.Replicate or ColumnChoice.Plot or ColumnChoice.Role or ColumnChoice.Lot or ColumnChoice.Treatment)
            .OrderBy(entry => entry.Value.Ordinal).Select(entry => entry.Value).Distinct(),
    ];

    public void Make()
    {
        // who said of two tables that both count has been asked
        if (_masses.Length < 2 || table.Table.Readings.Any(reading => reading.Id.StartsWith("layout.copies:", StringComparison.Ordinal)
            && _ask.AnswerTo(reading.Id) == "both"))
        {
            return;
        }
        double?[][] weighed = Weighed();
        Dictionary<int, int> replacedBy = [];
        HashSet<int> left = [], told = [];
        int asked = 0;
        string kind = areRates ? "copied-rates" : "copied";
        foreach ((List<(int First, int Second)> alike, bool isOfOne) in Runs(weighed))
        {
            (int First, int Second)[] pairs = [.. (isOfOne ? alike : Whole(alike, weighed))
                .Select(pair => (Standing(pair.First), pair.Second))];
            string id = asked++ == 0 ? kind : Invariant($"{kind}:{asked}"), answer = Ask(id, pairs, alike.Count, isOfOne);
            foreach ((int first, int second) in answer == "both" ? [] : pairs)
            {
                if (answer == "second")
                    replacedBy[first] = second;
                left.Add(answer == "second" ? first : second);
            }
            if (!_ask.IsOpen(id))
                told.UnionWith(left);
        }
        _ask.Tell(kind + "-left", told.Count, [.. told.Order().Take(8).Select(table.SeenRow)], PartsOf(told.Order()));
        table.LeaveOut(left.Contains);
        // a title that told the two apart is no place
        if (table.Of(ColumnChoice.Site) is { Name: BlockJoiner.TitleColumn or BlockJoiner.SheetColumn, Distinct.Count: < 2 })
            table.Chosen.Remove((ColumnChoice.Site, null));

        int Standing(int row)
        {
            while (replacedBy.TryGetValue(row, out int next))
                row = next;
            return row;
        }
    }

    private double?[][] Weighed()
    {
        NumberForm[] forms = Array.ConvertAll(_masses, column => NumberForm.Of(column)[0]);
        return [.. Enumerable.Range(0, table.Rows.Count).Select(row =>
            _masses.Select((column, i) => forms[i].Read(column, row)).ToArray())];
    }

    // Rows with the weighings of an earlier one, part by part: a new part begins where one is met again, or what is met was itself a copy.
    private IEnumerable<(List<(int First, int Second)> Alike, bool IsOfOne)> Runs(double?[][] weighed)
    {
        Dictionary<string, int> known = [];
        List<List<(int First, int Second)>> runs = [[]];
        HashSet<int> met = [];
        for (int row = 0; row < weighed.Length; row++)
        {
            if (weighed[row].Count(mass => mass is not null) < 2)
                continue;
            string key = string.Join(';', weighed[row].Select(mass => mass?.ToString("R", CultureInfo.InvariantCulture)));
            if (known.TryAdd(key, row))
                continue;
            int first = known[key];
            if (runs[^1].Count > 0 && (met.Contains(first) || first >= runs[^1][0].Second))
            {
                runs.Add([]);
                met.Clear();
            }
            met.Add(first);
            runs[^1].Add((first, row));
        }
        return runs.SelectMany(run => IsCopy(run) ? [(run, false)] : Holes(run).Where(hole => IsRare(hole, weighed))
            .Select(hole => (hole, true)));
    }

    // single holes that are alike, of rows that stand together in both places
    private IEnumerable<List<(int First, int Second)>> Holes(List<(int First, int Second)> run)
    {
        for (int at = 0; at + _rowsOfHole <= run.Count; at++)
        {
            List<(int First, int Second)> hole = run.GetRange(at, _rowsOfHole);
            if (_rowsOfHole == 1 || (hole[1].Second == hole[0].Second + 1 && Math.Abs(hole[1].First - hole[0].First) == 1))
            {
                yield return hole;
                at += _rowsOfHole - 1;
            }
        }
    }

    // Two numbers that are rounded to a step and scatter by sd round to the same one with the probability step / (2 √π sd), the density of
    // their difference at 0 where both are normal.
    private bool IsRare(List<(int First, int Second)> hole, double?[][] weighed)
    {
        double holes = weighed.Length / (double)_rowsOfHole, expected = holes * (holes - 1) / 2;
        foreach ((int first, _) in hole)
        {
            for (int i = 0; i < _masses.Length; i++)
                expected *= weighed[first][i] is null ? 1 : AlikeByChance(LitterOf(first), i, weighed);
        }
        return expected <= MostByChance;
    }

    private double AlikeByChance(string litter, int mass, double?[][] weighed)
    {
        if (_alikeByChance.TryGetValue((litter, mass), out double chance))
            return chance;
        double[] all = [.. Enumerable.Range(0, weighed.Length).Where(row => LitterOf(row) == litter)
            .Select(row => weighed[row][mass]).OfType<double>()];
        double sd = all.Length < 2 ? 0 : Statistics.StandardDeviation(all);
        return _alikeByChance[(litter, mass)] = sd > 0 ? Math.Min(1, all.Min(StepOf) / (2 * Math.Sqrt(Math.PI) * sd)) : 1;
    }

    // what a column says of it, else the place in the hole
    private string LitterOf(int row) => (table.Of(ColumnChoice.Role) ?? table.Of(ColumnChoice.Lot))?.TextAt(row)
        ?? Invariant($"{row % _rowsOfHole}");

    // one of the last digit
    private static double StepOf(double number)
    {
        string text = number.ToString("R", CultureInfo.InvariantCulture);
        int point = text.IndexOf('.', StringComparison.Ordinal);
        return point < 0 ? 1 : Math.Pow(10, point + 1 - text.Length);
    }

    // Several, of which most stand in the order or have the names of those that they repeat, with few others between them.
    private bool IsCopy(List<(int First, int Second)> run)
    {
        if (run.Count < (table.IsBurialRow ? 2 : 3) || run.Max(pair => pair.First) >= run[0].Second)
            return false;
        int inOrder = run.Skip(1).Zip(run).Count(two => two.First.First > two.Second.First),
            named = _names.Length == 0 ? 0 : run.Count(pair => NameOf(pair.First) == NameOf(pair.Second));
        return run.Count >= MostlyAlike * (run[^1].Second - run[0].Second + 1)
            && Math.Max(inOrder, named) >= MostlyAlike * (run.Count - 1);
    }

    private string NameOf(int row) => string.Join('\n', _names.Select(column => Identifier.Folded(column.TextAt(row))));

    // with the rows between and right beside them that were corrected: the same name, or half of the masses the same
    private List<(int First, int Second)> Whole(List<(int First, int Second)> run, double?[][] weighed)
    {
        List<(int First, int Second)> pairs = [.. run];
        HashSet<int> firsts = [.. run.Select(pair => pair.First)], seconds = [.. run.Select(pair => pair.Second)];
        int from = run.Min(pair => pair.First), to = run.Max(pair => pair.First), begin = run[0].Second, end = run[^1].Second;
        bool areNamed = run.Count(pair => NameOf(pair.First) == NameOf(pair.Second)) >= MostlyAlike * run.Count;
        int[] between = [.. Enumerable.Range(begin, end - begin + 1).Where(row => !seconds.Contains(row))];
        foreach (int row in between.Take(MostCorrected))
        {
            int[] free = [.. Enumerable.Range(from, to - from + 1).Where(one => !firsts.Contains(one))];
            if (free.Where(one => IsCorrected(one, row)).OrderByDescending(one => Same(one, row, weighed))
                .Select(one => (int?)one).FirstOrDefault() is { } first)
            {
                Add(first, row);
            }
        }
        while (from > 0 && begin - 1 > to && !firsts.Contains(from - 1) && IsCorrected(from - 1, begin - 1))
            Add(--from, --begin);
        while (end + 1 < weighed.Length && to + 1 < begin && !firsts.Contains(to + 1) && IsCorrected(to + 1, end + 1))
            Add(++to, ++end);
        return [.. pairs.OrderBy(pair => pair.Second)];

        bool IsCorrected(int first, int second) => areNamed ? NameOf(first) == NameOf(second)
            : Same(first, second, weighed) * 2 >= _masses.Length;

        void Add(int first, int second)
        {
            firsts.Add(first);
            pairs.Add((first, second));
        }
    }

    private static int Same(int first, int second, double?[][] weighed) =>
        weighed[first].Zip(weighed[second]).Count(two => two.First is not null && two.First == two.Second);

    private string Ask(string id, (int First, int Second)[] pairs, int alike, bool isOfOne)
    {
        string first = PartsOf(pairs.Select(pair => pair.First)), second = PartsOf(pairs.Select(pair => pair.Second));
        string likely = (CopiedTables.IsNamedWorse(second) && !CopiedTables.IsNamedWorse(first))
            || (CopiedTables.IsNamedBetter(first) && !CopiedTables.IsNamedBetter(second)) ? "first" : "second";
        SeenCell[] differing = [.. pairs.SelectMany(pair => _masses.Where(column => column.TextAt(pair.First) != column.TextAt(pair.Second))
            .SelectMany(column => new[] { column.SeenAt(pair.First), column.SeenAt(pair.Second) }))];
        return _ask.Choose(Interview.Columns, id,
            [
                _ask.Option("second", "copied-one", second), _ask.Option("first", "copied-one", first), _ask.Option("both", "copied-both"),
            ],
            isOfOne ? null : likely,
            differing.Length > 0 ? differing : [.. pairs.Take(2).SelectMany(pair => new[] { pair.First, pair.Second })
                .Select(table.SeenRow)], pairs.Length, first, second, alike)
            ?? (isOfOne ? "both" : likely);
    }

    // the title, sheet or file over some rows, and their numbers
    private string PartsOf(IEnumerable<int> rows) => string.Join("; ", rows.GroupBy(TitleOf).Select(part =>
    {
        int[] numbers = [.. part.Select(row => table.SeenRow(row).Row)];
        string where = _ask.Words.Say("ask.rows", numbers.Min().ToString(CultureInfo.InvariantCulture),
            numbers.Max().ToString(CultureInfo.InvariantCulture));
        return part.Key.Length == 0 ? where : $"{part.Key}, {where}";
    }));

    private string TitleOf(int row)
    {
        string site = table.Of(ColumnChoice.Site) is { } places && places.Name is not (BlockJoiner.TitleColumn or BlockJoiner.SheetColumn)
            && places.Distinct.Count > 1 ? places.TextAt(row) : "";
        string title = table.Columns.FirstOrDefault(column => column.Name == BlockJoiner.TitleColumn)?.TextAt(row) ?? "",
            sheet = table.Rows.Select(cells => cells[0].Place.Sheet).Distinct().Count() > 1 ? table.SeenRow(row).Sheet ?? "" : "";
        return ReceivedText.OneLine(ReceivedText.Masked(string.Join(", ", new[] { sheet, title, site }.Where(name => name.Length > 0))));
    }
}
