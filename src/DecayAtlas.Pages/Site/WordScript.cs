using DecayAtlas.Pages.Texts;

namespace DecayAtlas.Pages.Site;

/// <summary>The words that scripts say, in one language.</summary>
internal static class WordScript
{
    private static readonly string[] Kinds = ["word.", "map.", "site.", "quality.", "number."];

    public static string Of(Language words, PagesInputs inputs)
    {
        var said = new SortedDictionary<string, object>(StringComparer.Ordinal);
        foreach ((string key, string text) in words.All.Where(t => Kinds.Any(k => t.Key.StartsWith(k, StringComparison.Ordinal))))
            said[key] = text;
        said["covariates"] = new SortedDictionary<string, string>(inputs.CovariateTitles.ToDictionary(), StringComparer.Ordinal);
        return Script.Assign("atlasWords", said);
    }
}
