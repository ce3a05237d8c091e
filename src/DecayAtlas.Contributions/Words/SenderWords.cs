namespace DecayAtlas.Contributions.Words;

/// <summary>What is said to those who dig and send, from <c>Words/&lt;code&gt;.json</c>: questions, findings, reports, the kit. Pages say
/// the same words and have more of their own.</summary>
public static class SenderWords
{
    private const string Folder = "words";

    /// <summary>Codes of the languages that are shipped, in ordinal order.</summary>
    public static IReadOnlyList<string> Known { get; } = Phrases.CodesIn(typeof(SenderWords).Assembly, Folder);

    public static Phrases? Find(string code) => In(code) is { } texts ? new Phrases(code, texts) : null;

    /// <summary>Those of one language by key, to be said with others.</summary>
    public static IReadOnlyDictionary<string, string>? In(string code) => Phrases.In(typeof(SenderWords).Assembly, Folder, code);
}
