namespace DecayAtlas.Pages.Checking;

/// <summary>What the check says in a language: the words that its script asks for, and no others.</summary>
internal static class CheckWords
{
    private static readonly string[] Kinds = ["answer.", "drop.", "gate.", "number.", "word."];

    private static readonly string[] Single = ["colon", "foot.licences", "language.name", "missing", "waiting.row"];

    public static string FileOf(Language words) => $"data/check-words-{words.Code}.js";

    public static SortedDictionary<string, string> Of(Language words)
    {
        SortedDictionary<string, string> said = new(StringComparer.Ordinal) { ["code"] = words.Code };
        foreach ((string key, string text) in words.All)
        {
            if (Single.Contains(key) || Kinds.Any(kind => key.StartsWith(kind, StringComparison.Ordinal)))
                said[key] = text;
        }
        return said;
    }
}
