using System.Text.Json;

namespace DecayAtlas.Pages.Texts;

/// <summary>
/// What tables and columns hold, in the words of a language: <c>Texts/Dictionary/&lt;code&gt;.json</c> gives them by the English words of the
/// code, so that a meaning that changed is not said by an old translation.
/// </summary>
public sealed class ColumnWords
{
    private readonly Dictionary<string, string> _meanings;

    private ColumnWords(Dictionary<string, string> meanings) => _meanings = meanings;

    /// <summary>The words of a language; empty for English, and for a language that has none.</summary>
    public static ColumnWords Of(Language language)
    {
        using Stream? stream = typeof(ColumnWords).Assembly.GetManifestResourceStream($"dictionary/{language.Code}.json");
        return new ColumnWords(stream is null ? [] : JsonSerializer.Deserialize<Dictionary<string, string>>(stream)!);
    }

    /// <summary>The English texts that it translates.</summary>
    public IEnumerable<string> Known => _meanings.Keys;

    /// <summary>A meaning in this language, else in English and marked so.</summary>
    public Markup Say(string english) => _meanings.TryGetValue(english, out string? own) ? Markup.Of($"{own}") : Markup.Of($"<span lang=\"en\">{english}</span>");
}
