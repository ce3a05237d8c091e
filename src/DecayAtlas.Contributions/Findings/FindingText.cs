namespace DecayAtlas.Contributions.Findings;

/// <summary>How received text is quoted in a finding: short, on one line, and never an e-mail address.</summary>
internal static class FindingText
{
    private const int Longest = 60;

    /// <summary>A sentence of our own that may hold received text: on one line, without its full stop, and never with an e-mail
    /// address.</summary>
    public static string Plain(string sentence) =>
        string.Concat(ReceivedText.Masked(sentence.AsSpan().TrimEnd('.'), 3 * Longest).Select(c => ReceivedText.IsHostile(c) ? ' ' : c));

    public static string Quote(ReadOnlySpan<char> received)
    {
        string text = ReceivedText.Masked(received, Longest);
        return "'" + string.Create(text.Length, text, (line, source) =>
        {
            for (int i = 0; i < line.Length; i++)
                line[i] = ReceivedText.IsHostile(source[i]) ? ' ' : source[i];
        }) + "'";
    }
}
