namespace DecayAtlas.Contributions.Understanding;

/// <summary>Columns of two kinds that part the rows in halves, as the two litters do; what they mean is for the sender to say.</summary>
internal static class RoleColumns
{
    // a kind that is missing in more rows than that is no litter (common practice, no source)
    private const double FewestOfKind = 0.3;

    public static AskedColumn[] Of(IReadOnlyList<AskedColumn> free)
    {
        AskedColumn[] plain = [.. free.Where(column => column.Distinct.Count == 2 && ArePartedInHalves(column))];
        return plain.Length > 0 ? plain : [.. free.Where(column => column.Distinct.Count > 2 && ArePartedInHalves(column))];
    }

    /// <summary>What a text of such a column says of the litter: itself, or the letters of a number such as 7B.</summary>
    public static string Kind(AskedColumn column, string text) => column.Distinct.Count(word => !StateWords.IsNothing(word)) <= 2 ? text
        : string.Concat(Identifier.Folded(text).Where(char.IsLetter));

    /// <summary>The two kinds; null where there are not two.</summary>
    public static string[]? Kinds(AskedColumn column)
    {
        string[] kinds = [.. column.Distinct.Where(text => !StateWords.IsNothing(text)).Select(text => Kind(column, text)).Distinct()];
        return kinds.Length == 2 && Array.TrueForAll(kinds, kind => kind.Length > 0) ? kinds : null;
    }

    /// <summary>The kind of which less is left; null where that is not known.</summary>
    /// <param name="left">What is left in a row.</param>
    public static string? LostMore(AskedColumn column, Func<int, double?> left) =>
        Kinds(column) is { } kinds && Left(column, kinds[0], left) is { } one && Left(column, kinds[1], left) is { } other && one != other
            ? kinds[one < other ? 0 : 1] : null;

    /// <summary>The column whose kinds differ most in what is left.</summary>
    public static AskedColumn? MostTelling(IReadOnlyList<AskedColumn> among, Func<int, double?> left) =>
        among.Select(column => (Column: column, By: Difference(column, left))).Where(entry => entry.By is not null)
            .MaxBy(entry => entry.By).Column;

    private static double? Difference(AskedColumn column, Func<int, double?> left) => Kinds(column) is { } kinds
        && Left(column, kinds[0], left) - Left(column, kinds[1], left) is { } difference ? Math.Abs(difference) : null;

    private static bool ArePartedInHalves(AskedColumn column) => Kinds(column) is { } kinds && Array.TrueForAll(kinds, kind =>
        Enumerable.Range(0, column.Cells.Count).Count(row => IsOf(column, row, kind)) >= FewestOfKind * column.Cells.Count);

    private static bool IsOf(AskedColumn column, int row, string kind) =>
        column.TextAt(row) is { Length: > 0 } text && Kind(column, text) == kind;

    private static double? Left(AskedColumn column, string kind, Func<int, double?> left)
    {
        double[] all = [.. Enumerable.Range(0, column.Cells.Count).Where(row => IsOf(column, row, kind)).Select(left).OfType<double>()];
        return all.Length == 0 ? null : all.Average();
    }
}
