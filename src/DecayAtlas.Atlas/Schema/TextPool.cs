using System.Collections.Concurrent;

namespace DecayAtlas.Atlas.Schema;

/// <summary>Equal texts once: ids of sites, lots and contributions come with every bag, and a million bags would hold as many
/// copies.</summary>
public sealed class TextPool
{
    // tables of one release are read side by side
    private readonly ConcurrentDictionary<string, string> _kept = new(StringComparer.Ordinal);

    public string Of(string text) => _kept.GetOrAdd(text, text);
}
