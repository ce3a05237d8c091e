namespace DecayAtlas.Contributions;

/// <summary>How received text is quoted in a finding: short, on one line, and never an e-mail address.</summary>
internal static class FindingText
{
    private const int Longest = 60;

    /// <summary>A sentence of our own that may hold received text: on one line, without its full stop, and never with an e-mail address.</summary>
    public static string Plain(string sentence)
    {
        string text = ReceivedText.Masked(sentence.TrimEnd('.'));
        return string.Concat((text.Length > 3 * Longest ? text[..(3 * Longest)] + "…" : text).Select(c => ReceivedText.IsHostile(c) ? ' ' : c));
    }

    public static string Quote(ReadOnlySpan<char> received)
    {
        // masked before it is cut, or half an address would be left over
        string text = ReceivedText.Masked(received.Length > 4 * Longest ? received[..(4 * Longest)].ToString() : received.ToString());
        if (text.Length > Longest)
            text = string.Concat(text.AsSpan(0, Longest), "…");
        return "'" + string.Create(text.Length, text, (line, source) =>
        {
            for (int i = 0; i < line.Length; i++)
                line[i] = ReceivedText.IsHostile(source[i]) ? ' ' : source[i];
        }) + "'";
    }
}
