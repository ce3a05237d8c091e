using System.Globalization;

namespace DecayAtlas.Contributions.Workbooks;

/// <summary>Cell references as spreadsheets write them: column letters, then the row (ECMA-376 part 1, 18.18.7).</summary>
internal static class CellReference
{
    /// <summary>Most rows and columns that a sheet of this format can have.</summary>
    public const int MostRows = 1_048_576, MostColumns = 16_384;

    /// <summary>"C12" for column 2 (0-based) and row 12 (1-based).</summary>
    public static string Of(int column, int row) => Invariant($"{Letters(column)}{row}");

    public static string Letters(int column)
    {
        string letters = "";
        for (int rest = column + 1; rest > 0; rest = (rest - 1) / 26)
            letters = (char)('A' + (rest - 1) % 26) + letters;
        return letters;
    }

    /// <summary>Column (0-based) and row (1-based) of a reference; false when it is none or lies outside any sheet.</summary>
    public static bool TryParse(ReadOnlySpan<char> text, out int column, out int row)
    {
        column = 0;
        row = 0;
        int at = 0;
        while (at < text.Length && at < 4 && char.IsAsciiLetter(text[at]))
            column = column * 26 + (char.ToUpperInvariant(text[at++]) - 'A' + 1);
        column--;
        return column is >= 0 and < MostColumns
            && int.TryParse(text[at..], NumberStyles.None, CultureInfo.InvariantCulture, out row)
            && row is > 0 and <= MostRows;
    }
}
