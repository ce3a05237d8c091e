namespace DecayAtlas.Contributions.Sheets;

/// <summary>RRGGBB of a colour as web pages and OpenDocument write it.</summary>
internal static class HtmlColour
{
    private static readonly Dictionary<string,
        string> Named = ("red FF0000 green 008000 lime 00FF00 blue 0000FF yellow FFFF00 orange FFA500 gray 808080 grey 808080 silver "
        + "C0C0C0 lightgray D3D3D3 lightgrey D3D3D3 pink FFC0CB cyan 00FFFF aqua 00FFFF magenta FF00FF fuchsia FF00FF "
        + "purple 800080 lightgreen 90EE90 lightblue ADD8E6 lightyellow FFFFE0 gold FFD700 tomato FF6347 salmon FA8072 "
        + "black 000000 brown A52A2A ")
        .Split(' ', StringSplitOptions.RemoveEmptyEntries).Chunk(2).ToDictionary(pair => pair[0], pair => pair[1],
            StringComparer.OrdinalIgnoreCase);

    /// <summary>Null for white, for none, and for what is not understood.</summary>
    public static string? Of(string? text)
    {
        string plain = text?.Trim() ?? "";
        if (Named.TryGetValue(plain, out string? named))
            return named;
        if (!plain.StartsWith('#') || !plain.AsSpan(1).ContainsOnlyHex())
            return null;
        string colour = plain.Length == 7 ? plain[1..] : plain.Length == 4 ? string.Concat(plain[1..].Select(c => new string(c, 2)))
            : "FFFFFF";
        colour = colour.ToUpperInvariant();
        return colour == "FFFFFF" ? null : colour;
    }

    private static bool ContainsOnlyHex(this ReadOnlySpan<char> text)
    {
        foreach (char c in text)
        {
            if (!char.IsAsciiHexDigit(c))
                return false;
        }
        return text.Length > 0;
    }
}
