using System.Diagnostics.CodeAnalysis;
using Microsoft.Extensions.Caching.Memory;

namespace DecayAtlas.Serving.Features;

/// <summary>The features of one collection in memory, in the order of their ids. It does not change after it was made, so that any number
/// of requests read it side by side.</summary>
[SuppressMessage("Design", "CA1001",
    Justification = "Requests may still read the table of a release that was followed by another; the cache holds nothing but memory "
    + "and goes with it.")]
internal sealed class FeatureTable
{
    // what the last queries found is kept, so that paging looks once: 4 bytes a row found, 2 a letter of the query, 16 MiB at most
    private const int MostRowsRemembered = 4 << 20;

    private readonly MemoryCache _found = new(new MemoryCacheOptions { SizeLimit = MostRowsRemembered, CompactionPercentage = 0.5 });
    private readonly FeatureId[] _ids;
    private readonly double[] _longitudes, _latitudes;
    private readonly DaySpan?[] _days;
    private readonly Dictionary<string, FeatureColumn> _columnOf;

    /// <param name="ids">Ids in order, each once.</param>
    /// <param name="longitudes">Degrees east, NaN where the feature has no place.</param>
    /// <param name="latitudes">Degrees north, likewise.</param>
    /// <param name="days">When it was; missing where that is not known.</param>
    public FeatureTable(FeatureId[] ids, double[] longitudes, double[] latitudes, DaySpan?[] days, IReadOnlyList<FeatureColumn> columns)
    {
        (_ids, _longitudes, _latitudes, _days, Columns) = (ids, longitudes, latitudes, days, columns);
        _columnOf = columns.ToDictionary(c => c.Info.Name);
        double[] x = [.. longitudes.Where(double.IsFinite)], y = [.. latitudes.Where(double.IsFinite)];
        Extent = x.Length == 0 ? null : new QueryBox(x.Min(), y.Min(), x.Max(), y.Max());
        DaySpan[] known = [.. days.OfType<DaySpan>()];
        Days = known.Length == 0 ? null : new DaySpan(known.Min(d => d.From), known.Max(d => d.To));
    }

    public int Count => _ids.Length;

    public IReadOnlyList<FeatureColumn> Columns { get; }

    public QueryBox? Extent { get; }

    public DaySpan? Days { get; }

    public FeatureId IdOf(int row) => _ids[row];

    public (double Longitude, double Latitude)? PlaceOf(int row) =>
        double.IsNaN(_longitudes[row]) || double.IsNaN(_latitudes[row]) ? null : (_longitudes[row], _latitudes[row]);

    public int? RowOf(FeatureId id) => Array.BinarySearch(_ids, id) is var row and >= 0 ? row : null;

    /// <summary>The rows of one page, in order, and how many the query gives in all.</summary>
    public Page PageOf(PageRequest request)
    {
        // the feature that a page follows may be gone from this release; the page begins where it was
        int before = 0;
        if (request.After is { } after)
        {
            int at = Array.BinarySearch(_ids, FeatureId.Parse(after)!.Value);
            before = at >= 0 ? at + 1 : ~at;
        }

        if (request.Query.IsEverything)
            return new Page(null, before, Math.Min(request.Limit, Count - before), Count);
        int[] rows = Matching(request.Query);
        int found = Array.BinarySearch(rows, before), start = found >= 0 ? found : ~found;
        return new Page(rows, start, Math.Min(request.Limit, rows.Length - start), rows.Length);
    }

    /// <param name="Rows">All rows of the query; missing where these are all rows of the table.</param>
    /// <param name="Start">Where the page begins among them.</param>
    /// <param name="Matched">How many there are in all.</param>
    public readonly record struct Page(int[]? Rows, int Start, int Count, int Matched)
    {
        public bool IsLast => Start + Count >= Matched;

        public int RowAt(int i) => Rows is null ? Start + i : Rows[Start + i];
    }

    private int[] Matching(FeatureQuery query)
    {
        string key = query.ToString();
        return _found.GetOrCreate(key, entry =>
        {
            int[] rows = Scan(query);
            entry.Size = rows.Length + (key.Length / 2) + 256;   // and a kibibyte for the entry itself
            return rows;
        })!;
    }

    private int[] Scan(FeatureQuery query)
    {
        List<Predicate<int>> tests = [];
        foreach ((string property, string value) in query.Equal)
        {
            Predicate<int>? test = _columnOf.GetValueOrDefault(property) switch
            {
                CodedTextColumn text => text.Having(value),
                ValueColumn<bool> yesNo => yesNo.Having(value == "true"),
                _ => null,
            };
            if (test is null)
                return [];
            tests.Add(test);
        }

        if (query.Box is { } box)
        {
            tests.Add(row =>
                double.IsNaN(_longitudes[row]) || double.IsNaN(_latitudes[row]) || box.Contains(_longitudes[row], _latitudes[row]));
        }

        if (query.Days is { } days)
            tests.Add(row => _days[row]?.Intersects(days) != false);
        List<int> rows = [];
        for (int row = 0; row < Count; row++)
        {
            if (tests.TrueForAll(test => test(row)))
                rows.Add(row);
        }

        return [.. rows];
    }
}
