using System.Text.RegularExpressions;

namespace DecayAtlas.Contributions.Tests.Words;

/// <summary>One word for one thing, and one form of address, in each language.</summary>
public partial class WordsOfTheTrade
{
    /// <summary>What is said in another way: a lot, the rate, the curator, a check, a bag; and a form of address that is not the
    /// chosen one.</summary>
    public static TheoryData<string, string> Unused => new()
    {
        { "de", @"\b(Los|Loses|Lose|Losen|Lösern)\b|Zersetzungsrate|Abbaukonstante|Kurator|Betreuung|Koordination|\bEtikette\b" },
        // Sie within a sentence is a formal address; at the head of one it may be "they"
        { "de", @"[\p{Ll},] (Sie|Ihr|Ihnen|Ihre[mnrs]?)\b" },
        { "es", @"bolsita|coordinación|quien mantiene|\b(revisión de|móvil|ordenador)\b|tasa de degradación" },
        { "es", @"\b(sois|habéis|vuestr[oa]s?|vosotros|os|ustedes|tú|tu|tus)\b|\b\w+(adl[ao]s?|edl[ao]s?|idl[ao]s?)\b" },
        { "es", @"\b(añadid|enviad|escribid|convertid|volved|poned|soltad|mirad|corregid)\b|\b(corrijan|envíen|cambien|vuelvan)\b" },
        { "fr", @"responsables?\b|\btables?\b|écart-type|seconde pesée|vitesse de dégradation|\bsites?[ .,;]" },
        { "fr", @"\b(tu|ton|tes|toi)\b" },
        { "en", @"\b(batch|batches|teabag)\b" },
    };

    public static TheoryData<string> Languages => new(SenderWords.Known);

    [Theory]
    [MemberData(nameof(Unused))]
    public void A_thing_has_one_name_and_a_reader_one_form_of_address(string code, string unused)
    {
        Regex other = new(unused, RegexOptions.NonBacktracking);
        string[] found = [.. SenderWords.In(code)!.Where(text => other.IsMatch(text.Value)).Select(text => $"{text.Key}: {text.Value}")];
        Assert.True(found.Length == 0, string.Join('\n', found));
    }

    [Theory]
    [MemberData(nameof(Languages))]
    public void Litter_is_litter(string code) => Assert.DoesNotContain(SenderWords.In(code)!.Values, text => Drink().IsMatch(text));

    /// <summary>French sets no-break spaces before its tall signs and inside its quotation marks, so that none begins a line, and its
    /// apostrophe is a curved one (Lexique des règles typographiques en usage à l'Imprimerie nationale, from memory).</summary>
    [Fact]
    public void French_is_set_as_French_is() => Assert.All(SenderWords.In("fr")!, text =>
        Assert.False(Unset().IsMatch(text.Value), $"{text.Key}: {text.Value}"));

    [GeneratedRegex(@"\w'\w| [?!;»]|« | :(\s|$)", RegexOptions.NonBacktracking)]
    private static partial Regex Unset();

    [GeneratedRegex(@"\b(tea|teas|tees?|thés?|té|coffee|kaffee|cafés?|wine|wein|vin|beer|bier|cerveza|bière|milk|milch|leche|lait)\b",
        RegexOptions.NonBacktracking | RegexOptions.IgnoreCase)]
    private static partial Regex Drink();
}
