namespace DecayAtlas.Contributions.Vocabularies;

/// <summary>The words that one column has, each with its concepts.</summary>
public sealed class WordList
{
    private readonly Dictionary<string, OwnWord> _bySpelling;

    internal WordList(string name, string title, IReadOnlyList<OwnWord> words)
    {
        (Name, Title, Words, Names) = (name, title, words, [.. words.Select(w => w.Word)]);
        _bySpelling = words.SelectMany(w => w.OtherSpellings.Prepend(w.Word).Select(spelling => (WordSpelling.Plain(spelling), w)))
            .ToDictionary(x => x.Item1, x => x.w, StringComparer.Ordinal);
    }

    /// <summary>That of the column.</summary>
    public string Name { get; }

    public string Title { get; }

    public IReadOnlyList<OwnWord> Words { get; }

    public IReadOnlyList<string> Names { get; }

    /// <summary>The word that a text is, in whatever capitals, with spaces or hyphens, or in another spelling that is known.</summary>
    public OwnWord? Find(string? text) => text is null ? null : _bySpelling.GetValueOrDefault(WordSpelling.Plain(text));

    /// <summary>The closest word, or null where none is close.</summary>
    public string? NearestTo(string text) => Nearest.Of(text, Names);

    /// <summary>The address of the concept that comes close to a word; missing where the word is not ours or no concept is known.</summary>
    public string? IriOf(string? word) => Find(word)?.Iri;
}
