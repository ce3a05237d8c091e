namespace DecayAtlas.Contributions.Layout.Natures;

/// <summary>The numbers so far of rows that share labels: those of a class, of a litter, of both.</summary>
internal sealed class GroupedNumbers
{
    private const int MostRows = 5_000, MostColumns = 4;

    private readonly string[][] _keysOf;
    private readonly Dictionary<string, RunningNumbers[]> _running = [];
    private readonly Dictionary<string, int> _left = [];
    private readonly int _width;

    /// <param name="labels">By row and column; null where no label stands.</param>
    public GroupedNumbers(string?[][] labels, int width)
    {
        _width = width;
        if (labels.Length > MostRows)
        {
            _keysOf = [];
            return;
        }
        int[] grouping = [.. Enumerable.Range(0, width).Where(i => labels.Select(row => row[i]).OfType<string>().ToArray() is var all
            && all.Length * 2 > labels.Length && all.Distinct().Count() * 2 <= all.Length).Take(MostColumns)];
        _keysOf = [.. labels.Select(row => Keys(row, grouping).ToArray())];
        foreach (string key in _keysOf.SelectMany(keys => keys))
            _left[key] = _left.GetValueOrDefault(key) + 1;
    }

    /// <summary>The numbers above a row that share labels with it, and whether it is the last of them, or of a run of them.</summary>
    public IEnumerable<(RunningNumbers[] Above, bool IsLast)> Of(int row)
    {
        if (_keysOf.Length == 0)
            yield break;
        foreach (string key in _keysOf[row])
        {
            if (_running.TryGetValue(key, out RunningNumbers[]? above))
            {
                bool isLastOfRun = row > 0 && _keysOf[row - 1].Contains(key) && row + 1 < _keysOf.Length && !_keysOf[row + 1].Contains(key);
                yield return (above, isLastOfRun || _left[key] <= 1);
            }
        }
    }

    /// <summary>Goes past a row, with its numbers where it is one of those that are measured.</summary>
    public void Pass(int row, CellNumber?[]? numbers)
    {
        if (_keysOf.Length == 0)
            return;
        foreach (string key in _keysOf[row])
        {
            _left[key]--;
            if (numbers is null)
                continue;
            if (!_running.TryGetValue(key, out RunningNumbers[]? running))
                _running[key] = running = new RunningNumbers[_width];
            for (int i = 0; i < _width; i++)
            {
                if (numbers[i] is { } number)
                    running[i].Add(number.Value);
            }
        }
    }

    private static IEnumerable<string> Keys(string?[] row, int[] grouping)
    {
        yield return "";
        for (int a = 0; a < grouping.Length; a++)
        {
            if (row[grouping[a]] is not { } one)
                continue;
            yield return $"{a}\n{one}";
            for (int b = a + 1; b < grouping.Length; b++)
            {
                if (row[grouping[b]] is { } other)
                    yield return $"{a}\n{one}\n{b}\n{other}";
            }
        }
    }
}
