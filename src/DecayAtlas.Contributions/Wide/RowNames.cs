namespace DecayAtlas.Contributions.Wide;

/// <summary>How a mapping names rows that were laid out: by their line, or by their first cell in a workbook.</summary>
internal static class RowNames
{
    /// <summary>A name for each row, of which no two are the same: where one line holds several rows, the cell says which.</summary>
    public static string[] Of(IReadOnlyList<IReadOnlyList<TidyCell>> rows)
    {
        CellPlace[] places = [.. rows.Select(PlaceOf)];
        string[] names = [.. places.Select(Short)];
        HashSet<string> repeated = [.. Repeated(names)];
        for (int i = 0; i < names.Length; i++)
        {
            if (repeated.Contains(names[i]) && places[i].Sheet is null)
                names[i] = CellReference.Of(places[i].Column, places[i].Row);
        }
        repeated = [.. Repeated(names)];
        Dictionary<string, int> seen = [];
        for (int i = 0; i < names.Length; i++)
        {
            if (repeated.Contains(names[i]))
                names[i] += Invariant($"#{seen[names[i]] = seen.GetValueOrDefault(names[i]) + 1}");
        }
        return names;
    }

    // some cells of a row were filled down from above, or joined from elsewhere: it stands where most of them do
    private static CellPlace PlaceOf(IReadOnlyList<TidyCell> row) =>
        row.GroupBy(cell => (cell.Place.Sheet, cell.Place.Row)).MaxBy(group => group.Count())!.First().Place;

    private static string Short(CellPlace place) => place.Sheet is { } sheet ? $"{sheet}!{CellReference.Of(place.Column, place.Row)}"
        : Invariant($"{place.Row}");

    private static IEnumerable<string> Repeated(string[] names) =>
        names.GroupBy(name => name).Where(own => own.Count() > 1).Select(own => own.Key);
}
