using System.Globalization;

namespace DecayAtlas.Contributions.Layout.Natures;

/// <summary>The number in a cell, as far as a look at the layout needs it.</summary>
/// <param name="Step">One of its last digit.</param>
internal readonly record struct CellNumber(double Value, double Step)
{
    private const int Longest = 30;

    public static CellNumber? Of(SheetCell cell)
    {
        if (cell.Kind is not (SheetCellKind.Number or SheetCellKind.Text) || cell.Text.Length > Longest
            || CellNatures.Of(cell) != CellNature.Number)
        {
            return null;
        }
        ReadOnlySpan<char> text = cell.Text.AsSpan().Trim();
        int end = 0;
        while (end < text.Length && (char.IsAsciiDigit(text[end]) || "+-.,'’".Contains(text[end], StringComparison.Ordinal)))
            end++;
        string plain = (cell.Kind == SheetCellKind.Number ? text : text[..end]).ToString();
        if (cell.Kind == SheetCellKind.Text)
        {
            plain = plain.Replace("'", "", StringComparison.Ordinal).Replace("’", "", StringComparison.Ordinal);
            int sign = plain.LastIndexOfAny(['.', ',']);
            // the last of both signs is that of decimals
            if (sign >= 0)
            {
                plain = plain[..sign].Replace(".", "", StringComparison.Ordinal).Replace(",", "", StringComparison.Ordinal) + "."
                    + plain[(sign + 1)..];
            }
        }
        if (!double.TryParse(plain, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) || !double.IsFinite(value))
            return null;
        int point = plain.IndexOf('.', StringComparison.Ordinal);
        return new CellNumber(value, point < 0 ? 1 : Math.Pow(10, point - plain.Length + 1));
    }

    /// <summary>Whether it is that number, as far as one that was rounded to so many digits can be told.</summary>
    public bool Is(double computed) => Math.Abs(computed) > 1e-12
        && Math.Abs(Value - computed) <= 0.51 * Step + 1e-9 * Math.Abs(computed);
}
