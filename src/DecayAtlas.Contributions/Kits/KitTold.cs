namespace DecayAtlas.Contributions.Kits;

/// <summary>What of a kit was read otherwise than it was typed. A sheet typed with commas has them in every number, which is one thing to
/// tell and not one of every column.</summary>
internal sealed class KitTold
{
    private const int MostNamed = 3;

    private readonly List<Finding> _others = [];
    private readonly List<(Finding Finding, string Typed, string Read)> _numbers = [], _days = [];

    public void Add(Finding finding)
    {
        // read for both litters, and told once
        if (_others.Count < FindingList.Shown && !_others.Contains(finding))
            _others.Add(finding);
    }

    public void Typed(Finding finding, FieldSchema field, string typed, string read)
    {
        // a coordinate with more than its sign to it is looked at by itself
        if (TypedCoordinate.Is(field, typed) || (field.IsCoordinate && Degrees.LooksLike(typed)))
            Add(finding);
        else
            (field.Type == FieldType.Date ? _days : _numbers).Add((finding, typed, read));
    }

    public IReadOnlyList<Finding> Close(string file)
    {
        FindingList told = new();
        foreach (Finding finding in _others)
            told.Add(finding);
        Tell(_numbers, "numbers typed as text, as");
        Tell(_days, "days typed as text, as");
        return told.Close(file);

        void Tell(List<(Finding Finding, string Typed, string Read)> same, string what)
        {
            if (same.Select(one => one.Finding).Distinct().ToArray() is [var only])
            {
                told.Add(only);
            }
            else if (same.Count > 0)
            {
                // what is not a mere comma first
                (string Typed, string Read, string? Cell)[] named = [.. same.Select(one => (one.Typed, one.Read, one.Finding.Cell))
                    .DistinctBy(one => (one.Typed, one.Read)).OrderBy(one => one.Typed.Replace(',', '.') == one.Read)];
                bool isMore = named.Length > MostNamed;
                told.Add(new Finding(FindingCode.KitTyped, file,
                    $"{what} {string.Join(", ", named.Take(MostNamed).Select(one => FindingText.Quote(one.Typed)
                        + (one.Cell is null ? "" : $" ({one.Cell})")))}{(isMore ? ", …" : "")}",
                    $"read as {string.Join("; ", named.Take(MostNamed).Select(one => one.Read))}{(isMore ? "; …" : "")}",
                    "nothing is to be done if that is right; else type it again")
                {
                    Sheet = same.Select(one => one.Finding.Sheet).Distinct().ToArray() is [var sheet] ? sheet : null,
                });
            }
        }
    }
}
