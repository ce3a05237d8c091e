namespace DecayAtlas.Pages.Html;

/// <summary>What every page of the house looks like, also those that are no pages of a release.</summary>
public static class HouseStyle
{
    /// <summary>Colours, and the sheet of the pages.</summary>
    public static string Css { get; } = HouseColours.Css + Text("assets/pages.css");

    /// <summary>The mark of the house, as SVG.</summary>
    public static string Mark { get; } = Text("assets/mark.svg");

    private static string Text(string name)
    {
        using StreamReader reader = new(typeof(HouseStyle).Assembly.GetManifestResourceStream(name)!);
        return reader.ReadToEnd().ReplaceLineEndings("\n");
    }
}
