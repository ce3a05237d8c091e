namespace DecayAtlas.Contributions.Questioning.Sides;

/// <summary>O is Ost in German, and ouest or oeste in French and Spanish.</summary>
internal static class LetterO
{
    /// <summary>Whether it is east by the sheet's own words, else by where the group is at home, else by its language; null where these say
    /// nothing.</summary>
    /// <param name="languages">Codes, the surest first.</param>
    public static bool? IsEast(IEnumerable<string> wordsOfSheet, string? countryCode, params IReadOnlyList<string?> languages) =>
        ByLanguage(SheetLanguage.Of(wordsOfSheet)) ?? countryCode switch
        {
            "DE" or "AT" or "LI" => true,
            "FR" or "ES" or "MX" or "AR" or "CL" or "CO" or "PE" or "UY" or "EC" or "BO" or "PY" or "VE" or "RE" or "MC" => false,
            _ => languages.Select(ByLanguage).FirstOrDefault(isEast => isEast is not null),
        };

    private static bool? ByLanguage(string? code) => code is not { Length: >= 2 } ? null
        : code[..2] switch { "de" => true, "es" or "fr" => false, _ => null };
}
