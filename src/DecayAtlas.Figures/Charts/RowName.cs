namespace DecayAtlas.Figures.Charts;

/// <summary>The name of a row: beside it, or on a narrow chart above it in as many lines as it needs.</summary>
internal static class RowName
{
    public const double LineHeight = 15;

    // letters of a page may be wider than ours
    private const double PageLetters = 1.13;

    public static double Width(string name) => PageLetters * Lettering.Width(name, MarkSheet.TextSize);

    public static IReadOnlyList<string> Lines(string name, double width) =>
        Lettering.Wrap(name, (float)(width / PageLetters), MarkSheet.TextSize);

    /// <summary>Writes the name below <paramref name="top"/>.</summary>
    /// <returns>Where the row goes on.</returns>
    public static double Write(MarkSheet sheet, string name, double left, double top, double width)
    {
        double y = top;
        foreach (string line in Lines(name, width))
            sheet.Write(HouseColours.Ink, line, left, (y += LineHeight) - 3);
        return y;
    }
}
