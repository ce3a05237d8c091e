namespace DecayAtlas.Pages.Scripts;

internal static class WordScript
{
    private static readonly string[] Kinds = ["word.", "map.", "site.", "quality.", "number.", "unit.", "said."];

    public static string Of(Language words, PagesInputs inputs)
    {
        SortedDictionary<string, object> said = new(StringComparer.Ordinal);
        foreach ((string key, string text) in words.All.Where(t => Kinds.Any(k => t.Key.StartsWith(k, StringComparison.Ordinal))))
            said[key] = text;
        foreach (string code in inputs.FlagMeanings.Select(m => m.Code))
            said[$"flag.{code}.title"] = FlagWords.Title(code, words);
        foreach (string code in words.IsTranslation ? inputs.FlagMeanings.Select(m => m.Code) : [])
        {
            if (words.FindText("flag." + code) is { } meaning)
                said["flag." + code] = meaning;
        }

        said["colon"] = words.Colon;
        said["translated"] = words.IsTranslation;
        said["covariates"] = new SortedDictionary<string, string>(
            inputs.CovariateTitles.ToDictionary(t => t.Key, t => words.Quoted(t.Value)), StringComparer.Ordinal);
        return Script.Assign("atlasWords", said);
    }
}
