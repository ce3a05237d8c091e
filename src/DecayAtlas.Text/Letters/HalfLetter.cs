using System.Text;

namespace DecayAtlas.Text.Letters;

/// <summary>
/// Half of a letter: a surrogate without its other half, as the escape \ud800 alone. It can stand in a string of a program, and in no
/// file, table or page: whatever writes it as UTF-8 refuses it or puts another letter in its place.
/// </summary>
public static class HalfLetter
{
    public static bool IsIn(ReadOnlySpan<char> text)
    {
        int at = text.IndexOfAnyInRange('\uD800', '\uDFFF');
        for (; at >= 0 && at < text.Length; at++)
        {
            if (!char.IsSurrogate(text[at]))
                continue;
            if (!char.IsHighSurrogate(text[at]) || at + 1 == text.Length || !char.IsLowSurrogate(text[at + 1]))
                return true;
            at++;
        }

        return false;
    }

    /// <summary>The text with the replacement character (U+FFFD) for each half letter.</summary>
    public static string Replaced(string text) => IsIn(text) ? Encoding.UTF8.GetString(Encoding.UTF8.GetBytes(text)) : text;
}
