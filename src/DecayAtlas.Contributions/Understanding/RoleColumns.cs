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

    /// <summary>What each text of a column says of the litter: itself, or the letters of a number such as 7B; empty where that does not
    /// make two kinds.</summary>
    public static IReadOnlyDictionary<string, string> KindsOf(AskedColumn column)
    {
        string[] texts = column.Distinct.Count >= AskedColumn.MostDistinct ? []
            : [.. column.Distinct.Where(text => !StateWords.IsNothing(text))];
        Dictionary<string, string> kinds = texts.ToDictionary(text => text, text => texts.Length == 2 ? text
            : string.Concat(Identifier.Folded(text).Where(char.IsLetter)));
        return kinds.Values.Distinct().Count() == 2 && kinds.Values.All(kind => kind.Length > 0) ? kinds : new Dictionary<string, string>();
    }

    /// <summary>The kind of which less is left; null where that is not known.</summary>
    /// <param name="left">What is left in a row.</param>
    public static string? LostMore(AskedColumn column, Func<int, double?> left) =>
        LeftOf(column, left) is [(string one, double least), (string other, double most)] && least != most
            ? least < most ? one : other : null;

    /// <summary>The column whose kinds differ most in what is left.</summary>
    public static AskedColumn? MostTelling(IReadOnlyList<AskedColumn> among, Func<int, double?> left) =>
        among.Select(column => (Column: column, Left: LeftOf(column, left))).Where(entry => entry.Left.Length == 2)
            .OrderByDescending(entry => Math.Abs(entry.Left[0].Left - entry.Left[1].Left)).Select(entry => entry.Column).FirstOrDefault();

    private static bool ArePartedInHalves(AskedColumn column)
    {
        IReadOnlyDictionary<string, string> kinds = KindsOf(column);
        return kinds.Count > 0 && Enumerable.Range(0, column.Cells.Count).Select(row => kinds.GetValueOrDefault(column.TextAt(row)))
            .OfType<string>().GroupBy(kind => kind).All(own => own.Count() >= FewestOfKind * column.Cells.Count);
    }

    private static (string Kind, double Left)[] LeftOf(AskedColumn column, Func<int, double?> left)
    {
        IReadOnlyDictionary<string, string> kinds = KindsOf(column);
        return [.. Enumerable.Range(0, column.Cells.Count)
            .Select(row => (Kind: kinds.GetValueOrDefault(column.TextAt(row)), Left: left(row)))
            .Where(row => row is ({ }, { } known) && double.IsFinite(known)).GroupBy(row => row.Kind!)
            .Select(own => (own.Key, own.Average(row => row.Left!.Value)))];
    }
}
