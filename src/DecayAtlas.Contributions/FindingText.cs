using System.Text.RegularExpressions;

namespace DecayAtlas.Contributions;

/// <summary>How received text is quoted in a finding: short, on one line, and never an e-mail address.</summary>
internal static partial class FindingText
{
    private const int Longest = 60;

    /// <summary>A sentence of our own that may hold received text: on one line, without its full stop, and never with an e-mail address.</summary>
    public static string Plain(string sentence)
    {
        string text = Email().Replace(sentence.TrimEnd('.'), "(an e-mail address)");
        return string.Concat((text.Length > 3 * Longest ? text[..(3 * Longest)] + "…" : text).Select(c => char.IsControl(c) ? ' ' : c));
    }

    public static string Quote(ReadOnlySpan<char> received)
    {
        string text = received.Length > Longest ? string.Concat(received[..Longest], "…") : received.ToString();
        text = Email().Replace(text, "(an e-mail address)");
        return "'" + string.Create(text.Length, text, (line, source) =>
        {
            for (int i = 0; i < line.Length; i++)
                line[i] = char.IsControl(source[i]) ? ' ' : source[i];
        }) + "'";
    }

    [GeneratedRegex(@"[^\s@,;]+@[^\s@,;]+", RegexOptions.CultureInvariant)]
    private static partial Regex Email();
}
