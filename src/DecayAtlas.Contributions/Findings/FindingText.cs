namespace DecayAtlas.Contributions.Findings;

/// <summary>How received text is quoted in a finding: short, on one line, and never an e-mail address.</summary>
internal static class FindingText
{
    private const int Longest = 60;

    /// <summary>A sentence of our own that may hold received text: on one line, without its full stop, and never with an e-mail
    /// address.</summary>
    public static string Plain(string sentence) =>
        ReceivedText.OneLine(ReceivedText.Masked(sentence.AsSpan().TrimEnd('.'), 3 * Longest), ' ');

    public static string Quote(ReadOnlySpan<char> received) => $"'{ReceivedText.OneLine(ReceivedText.Masked(received, Longest), ' ')}'";
}
