using System.Reflection;

namespace DecayAtlas.Kit.Printing;

/// <summary>The style of a kit's pages: that of the pages of a release, and what printing on this paper needs.</summary>
internal static class KitStyle
{
    public const string FileName = "kit.css";

    public static string For(PaperSize paper) =>
        $$"""
        {{HouseStyle.Css}}
        {{Own()}}
        @page { size: {{paper.Name}}; margin: 11mm 12mm }
        @page wide { size: {{paper.Name}} landscape; margin: 11mm 12mm }
        @page labels { size: {{paper.Name}}; margin: 10mm }

        """;

    /// <summary>The mark of the house, as pages have it.</summary>
    public static string Mark => HouseStyle.Mark;

    private static string Own()
    {
        using StreamReader reader = new(Assembly.GetExecutingAssembly().GetManifestResourceStream("kit.css")!);
        return reader.ReadToEnd();
    }
}
