namespace DecayAtlas.Pages.Texts;

/// <summary>The words of one language: what is said to senders, and from <c>Texts/&lt;code&gt;.json</c> what pages alone say. A new one
/// is one new file in each place; a test sees that it has every text with the same holes.</summary>
public sealed class Language : Phrases
{
    private const string Folder = "texts";

    private Language(string code, params IEnumerable<IReadOnlyDictionary<string, string>> sources) : base(code, sources) { }

    /// <summary>Codes of the languages that are shipped, in ordinal order.</summary>
    public static IReadOnlyList<string> Known { get; } = CodesIn(typeof(Language).Assembly, Folder);

    public static Language? Find(string code) =>
        In(typeof(Language).Assembly, Folder, code) is { } texts && SenderWords.In(code) is { } toSenders
            ? new Language(code, toSenders, texts) : null;

    /// <summary>A text whose pieces between asterisks are slanted, for letters that stand for quantities.</summary>
    public Markup Rich(string key, params object?[] values) => Markup.Of($"{TextFor(key, values).Split('*').Select(p => Filled(p, values))
        .Select((piece, i) => i % 2 == 0 ? piece : Markup.Of($"<i>{piece}</i>"))}");

    /// <summary>Several such texts, as the head of a table.</summary>
    public Markup[] Texts(params string[] keys) => [.. keys.Select(key => Rich(key))];

    /// <summary>The word for a code of the tables (accepted, rejected, ...); the code itself where there is none.</summary>
    public string Word(string? code) => code is null ? Missing : FindText("word." + code) ?? code;

    /// <summary>A unit of the tables as people write it; the code itself where there is no word for it.</summary>
    public string Unit(string? code) => code is null or "1" ? "" : FindText("unit." + code) ?? code;

    /// <summary>What a model's card says in English, in this language where it has words for its code.</summary>
    public string TextOfCard(string? code, string english) => FindText("card." + code) ?? english;

    /// <summary>The same as a piece, marked as English where this language has no words for it.</summary>
    public Markup OfCard(string? code, string english) =>
        IsTranslation && FindText("card." + code) is null ? English(english) : TextOfCard(code, english);

    /// <summary>The title that a grid catalogue gives a covariate, which is the curator's, in this language where it knows the
    /// words.</summary>
    public string Quoted(string english) => IsTranslation ? FindText("quoted." + english) ?? english : english;

    /// <summary>The same as a piece, marked as English where this language does not know the words.</summary>
    public Markup Quote(string english) =>
        IsTranslation && FindText("quoted." + english) is null ? English(english) : Quoted(english);

    /// <summary>English in a page of another language, so that it is read out as such.</summary>
    internal static Markup English(string text) => Markup.Of($"<span lang=\"en\">{text}</span>");

    /// <summary>Whether findings, which are written in English, are of another language than these words.</summary>
    public bool IsTranslation => Code != "en";
}
