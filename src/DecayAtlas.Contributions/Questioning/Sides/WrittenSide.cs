namespace DecayAtlas.Contributions.Questioning.Sides;

/// <summary>How much a coordinate says of its side of the equator or of Greenwich.</summary>
internal enum WrittenSide
{
    /// <summary>By a letter, a minus or the name of its column.</summary>
    Said,

    /// <summary>Neither it nor any other says it.</summary>
    Open,

    /// <summary>Others of its column say it, and it does not: north or east, or a minus that was forgotten.</summary>
    Unlike,

    /// <summary>O: Ost in German, ouest and oeste in French and Spanish.</summary>
    LetterO,
}

/// <summary>One of the two coordinates in all rows: which of them say their side.</summary>
internal sealed class SidesOfAxis
{
    private readonly bool _isSigned;

    /// <param name="half">What the name of the column says: N, S, E, W, O or null.</param>
    /// <param name="isAlone">Whether each was written for itself, so that the others tell nothing of it.</param>
    public SidesOfAxis(IEnumerable<WrittenDegrees?> written, char? half, bool isAlone)
    {
        WrittenDegrees[] all = [.. written.OfType<WrittenDegrees>()];
        Half = half;
        Letters = all.Select(one => one.Letter).OfType<char>().ToHashSet();
        _isSigned = isAlone || Letters.Any(letter => letter != 'O') || all.Any(one => one.Letter is null && one.IsSigned);
        IsByMinus = !isAlone && half is null && Letters.Count == 0 && Array.Exists(all, one => one.IsSigned);
        // who writes Greenwich's other side with its own letter means this one by O
        OIsEast = Letters.Contains('W') == Letters.Contains('E') ? null : Letters.Contains('W');
    }

    public char? Half { get; }

    /// <summary>Whether signs say the sides: some have a minus, and none a letter.</summary>
    public bool IsByMinus { get; }

    public IReadOnlySet<char> Letters { get; }

    /// <summary>What O is by the other letters of the column.</summary>
    public bool? OIsEast { get; }

    public WrittenSide SideOf(WrittenDegrees one) => one.Letter switch
    {
        'O' when OIsEast is null => WrittenSide.LetterO,
        // a minus before N contradicts itself
        'N' or 'E' when one.IsSigned => WrittenSide.Open,
        not null => WrittenSide.Said,
        null when one.IsSigned || one.Degrees == 0 || Half is 'N' or 'S' or 'E' or 'W' => WrittenSide.Said,
        null when Half == 'O' => WrittenSide.LetterO,
        null => _isSigned ? WrittenSide.Unlike : WrittenSide.Open,
    };

    /// <summary>1 or -1 by what is written; 1 where nothing is.</summary>
    public int SignOf(WrittenDegrees one) => one.Letter switch
    {
        'S' or 'W' => -1,
        'N' or 'E' => 1,
        'O' => OIsEast == false ? -1 : 1,
        _ => one.IsSigned || Half is 'S' or 'W' ? -1 : 1,
    };
}
