namespace DecayAtlas.Text.Letters;

/// <summary>How a word may be written and still be the same.</summary>
public static class WordSpelling
{
    /// <summary>What two spellings of one word share: its letters and digits, capitals, spaces and hyphens aside.</summary>
    public static string Plain(string text) => string.Concat(text.Where(char.IsLetterOrDigit)).ToLowerInvariant();
}
