using System.Globalization;
using System.Text;

namespace DecayAtlas.Contributions.Vocabularies;

/// <summary>Makes an id of a name as people write it: Haie / talus nord becomes Haie-talus-nord, Hügli Huegli.</summary>
internal static class Identifier
{
    private const int Longest = 64;

    // letters that are written with two without their marks, and marked letters where the plain one is usual
    private const string Marked = "àáâãåāăąçćčďđèéêëēėęěìíîïīıłľñńňòóôõøōőŕřśšşťţùúûūůűýÿžźżÀÁÂÃÅĀÇĆČĐÈÉÊËĒĖĘĚÌÍÎÏŁÑŃÒÓÔÕØŌŚŠŞÙÚÛŪŮÝŽŹŻ";
    private const string Plain = "aaaaaaaacccddeeeeeeeeiiiiiillnnnooooooorrsssttuuuuuuyyzzzAAAAAACCCDEEEEEEEEIIIILNNOOOOOOSSSUUUUUYZZZ";

    private const string Pairs = "äae öoe üue ÄAe ÖOe ÜUe ßss æae œoe ÆAe ŒOe";

    private static readonly Dictionary<char, string> Letters = MakeLetters();

    public static string Of(string name)
    {
        StringBuilder id = new();
        foreach (char letter in name.Trim())
        {
            if (char.IsAsciiLetterOrDigit(letter) || (letter is '.' or '_' or ':' && id.Length > 0))
                id.Append(letter);
            else if (Letters.TryGetValue(letter, out string? plain))
                id.Append(plain);
            else if (CharUnicodeInfo.GetUnicodeCategory(letter) == UnicodeCategory.NonSpacingMark)
                continue;
            else if (id.Length > 0 && id[^1] != '-')
                id.Append('-');
        }
        string made = id.ToString().TrimEnd('-', '.', '_', ':');
        return made.Length <= Longest ? made : made[..Longest];
    }

    /// <summary>Small letters without marks, ä as a: what is compared, never shown.</summary>
    public static string Folded(string text) => string.Concat(text.ToLowerInvariant().Select(letter => letter switch
    {
        'ä' => "a",
        'ö' => "o",
        'ü' => "u",
        _ => Letters.GetValueOrDefault(letter, letter.ToString()),
    }));

    private static Dictionary<char, string> MakeLetters()
    {
        Dictionary<char, string> letters = Pairs.Split(' ').ToDictionary(pair => pair[0], pair => pair[1..]);
        for (int i = 0; i < Marked.Length; i++)
            letters[Marked[i]] = Plain[i].ToString();
        return letters;
    }
}
