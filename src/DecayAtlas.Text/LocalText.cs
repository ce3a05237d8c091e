namespace DecayAtlas.Text;

/// <summary>A text of the curator's: one for all, or one for each language.</summary>
/// <param name="Plain">In the language of the campaign where it is there, else the first; what is taken where a language has none.</param>
/// <param name="ByLanguage">By BCP 47 code.</param>
public sealed record LocalText(string Plain, IReadOnlyDictionary<string, string> ByLanguage)
{
    public static LocalText Of(string text, string language) => new(text, new Dictionary<string, string> { [language] = text });

    /// <summary>One for all languages.</summary>
    public static implicit operator LocalText(string text) => new(text, new Dictionary<string, string>());

    public static LocalText FromString(string text) => text;

    public string In(string language) => ByLanguage.GetValueOrDefault(language, Plain);

    public bool Speaks(string language) => ByLanguage.ContainsKey(language);
}
