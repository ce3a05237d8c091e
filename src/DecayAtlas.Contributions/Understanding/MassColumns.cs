namespace DecayAtlas.Contributions.Understanding;

/// <summary>Two columns of masses of which one is always the larger are those before and after, whatever their names.</summary>
internal static class MassColumns
{
    // what a mass can be in g or mg, and the share of rows that a slip may spoil (common practice, no source)
    private const double Least = 0.01, Most = 20_000, Enough = 0.9;

    private const int FewestRows = 3;

    /// <summary>What litter in a bag can weigh at most (g; common practice, no source).</summary>
    public const double MostGrams = 20;

    /// <summary>The only two columns that can be those before and after; null where there are none or several.</summary>
    public static (AskedColumn Before, AskedColumn After)? Pair(IReadOnlyList<AskedColumn> firsts, IReadOnlyList<AskedColumn> lasts)
    {
        (AskedColumn, AskedColumn)[] pairs =
        [
            .. from first in firsts
               from last in lasts
               where first != last && IsLarger(first, last)
               select (first, last),
        ];
        return pairs.Length == 1 ? pairs[0] : null;
    }

    /// <summary>Whether the values can be masses: numbers of bags are whole and small, those of places few.</summary>
    public static bool AreMasses(AskedColumn column)
    {
        if (!column.IsNumbers || column.Distinct.Count < FewestRows)
            return false;
        NumberForm form = NumberForm.Of(column)[0];
        double[] numbers = [.. Enumerable.Range(0, column.Cells.Count).Select(row => form.Read(column, row)).OfType<double>()];
        return numbers.Length >= FewestRows && Array.TrueForAll(numbers, x => x is >= Least and <= Most)
            && Array.Exists(numbers, x => x != Math.Floor(x) || x > 100);
    }

    private static bool IsLarger(AskedColumn first, AskedColumn last)
    {
        NumberForm one = NumberForm.Of(first)[0], other = NumberForm.Of(last)[0];
        (double? First, double? Last)[] both = [.. Enumerable.Range(0, first.Cells.Count)
            .Select(row => (one.Read(first, row), other.Read(last, row))).Where(pair => pair is ({ }, { }))];
        return both.Length >= FewestRows && both.Count(pair => pair.First > pair.Last) >= Enough * both.Length;
    }
}
