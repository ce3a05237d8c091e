namespace DecayAtlas.Atlas.Schema;

/// <summary>Equal texts once: ids of sites, lots and contributions come with every bag, and a million bags would hold as many
/// copies.</summary>
public sealed class TextPool
{
    private readonly Dictionary<string, string> _kept = new(StringComparer.Ordinal);

    public string Of(string text)
    {
        if (_kept.TryGetValue(text, out string? first))
            return first;
        _kept[text] = text;
        return text;
    }
}
