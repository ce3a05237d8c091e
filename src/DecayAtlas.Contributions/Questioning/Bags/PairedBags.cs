namespace DecayAtlas.Contributions.Questioning.Bags;

/// <summary>Finds which bags lay together where no column says it: by numbers of bags that differ in one part only, as 1A and 1B, or by
/// their standing next to each other. Each row gets the key of its burial.</summary>
internal sealed class PairedBags(AskedTable table)
{
    /// <summary>By the numbers of bags, less the part that says which litter it is; null where they do not say it.</summary>
    public (AskedColumn Column, string[] Keys)? ByNumber()
    {
        foreach (AskedColumn column in new[] { table.Of(ColumnChoice.Bag), table.Of(ColumnChoice.Number), table.Of(ColumnChoice.Burial),
            table.Of(ColumnChoice.Replicate) }.OfType<AskedColumn>().Where(column => column.Filled == table.Rows.Count))
        {
            foreach (Func<string[], int> part in Parts)
            {
                if (Stems(column, part) is not { } stems)
                    continue;
                if (ArePairs(stems))
                    return (column, stems);
                if (table.Of(ColumnChoice.Site) is { } site && site.Filled == table.Rows.Count
                    && stems.Select((stem, row) => $"{site.TextAt(row)}-{stem}").ToArray() is var ofSite && ArePairs(ofSite))
                {
                    return (column, ofSite);
                }
            }
        }
        return null;
    }

    /// <summary>Rows next to each other, a fast and a slow one; a bag whose neighbour is missing stays alone. Null where rows do not
    /// alternate.</summary>
    /// <param name="groupOf">Rows of two groups did not lie together.</param>
    public string[]? ByNeighbour(Func<int, string> groupOf)
    {
        LitterRole? first = table.RoleOfRow.FirstOrDefault(role => role is not null);
        string[] keys = new string[table.Rows.Count];
        int burial = 0, pairs = 0;
        for (int row = 0; row < keys.Length; row++)
        {
            bool isSecond = row > 0 && table.RoleOfRow[row] is { } own && table.RoleOfRow[row - 1] is { } before && own != before
                && before == first && groupOf(row) == groupOf(row - 1);
            if (!isSecond)
                burial++;
            pairs += isSecond ? 1 : 0;
            keys[row] = Invariant($"pair-{burial}");
        }
        return pairs * 2 > burial ? keys : null;
    }

    /// <summary>Whether two ways of pairing put the same rows together.</summary>
    public static bool AreSame(IReadOnlyList<string> one, IReadOnlyList<string> other)
    {
        Dictionary<string, string> there = [], back = [];
        for (int row = 0; row < one.Count; row++)
        {
            if (!there.TryAdd(one[row], other[row]) && there[one[row]] != other[row])
                return false;
            if (!back.TryAdd(other[row], one[row]) && back[other[row]] != one[row])
                return false;
        }
        return true;
    }

    // the last part, the last but one, the first: which of them says the litter
    private static readonly Func<string[], int>[] Parts = [parts => parts.Length - 1, parts => parts.Length - 2, _ => 0];

    // two words for the part that is left out, each always of the same litter
    private string[]? Stems(AskedColumn column, Func<string[], int> part)
    {
        string[] stems = new string[table.Rows.Count];
        Dictionary<string, LitterRole> roleOf = [];
        for (int row = 0; row < stems.Length; row++)
        {
            string[] parts = PartsOf(column.TextAt(row));
            int at = part(parts);
            if (parts.Length < 2 || at < 0 || table.RoleOfRow[row] is not { } role)
                return null;
            if (!roleOf.TryAdd(parts[at], role) && roleOf[parts[at]] != role)
                return null;
            stems[row] = string.Join('-', parts.Where((_, i) => i != at));
        }
        return roleOf.Count == 2 && roleOf.Values.Distinct().Count() == 2 ? stems : null;
    }

    // runs of letters and runs of digits; of one number the last digit is a part of its own: 31 and 32
    private static string[] PartsOf(string text)
    {
        List<string> parts = [];
        char before = ' ';
        foreach (char c in Identifier.Folded(text))
        {
            bool isDigit = char.IsAsciiDigit(c);
            if (char.IsLetter(c) || isDigit)
            {
                if (parts.Count > 0 && (isDigit ? char.IsAsciiDigit(before) : char.IsLetter(before)))
                    parts[^1] += c;
                else
                    parts.Add(c.ToString());
            }
            before = c;
        }
        return parts is [{ Length: > 1 } only] && char.IsAsciiDigit(only[0]) ? [only[..^1], only[^1..]] : [.. parts];
    }

    private bool ArePairs(string[] keys)
    {
        int[][] burials = [.. Enumerable.Range(0, keys.Length).GroupBy(row => keys[row]).Select(own => own.ToArray())];
        return burials.All(rows => rows.GroupBy(row => table.RoleOfRow[row]).All(own => own.Count() == 1))
            && burials.Count(rows => rows.Length == 2) * 2 > burials.Length;
    }
}
