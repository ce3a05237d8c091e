using System.Net;
using System.Text.RegularExpressions;

namespace DecayAtlas.Figures;

/// <summary>
/// Makes of the drawing library's SVG a document that is the same each time and that a screen reader can tell: its ids count on from
/// drawing to drawing, its glyphs are placed one by one for one typeface, and it has no title.
/// </summary>
internal static partial class SvgText
{
    private const string Typefaces = "Inter, 'Helvetica Neue', Arial, sans-serif";

    public static string Tidy(string svg, string title, string description, int width, int height)
    {
        var ids = new Dictionary<string, string>(StringComparer.Ordinal);
        string tidy = ClipId().Replace(svg, m =>
        {
            if (!ids.TryGetValue(m.Value, out string? id))
                ids[m.Value] = id = FormattableString.Invariant($"clip{ids.Count + 1}");
            return id;
        });
        // the first place of a run is its place; where the reader's typeface is another, the letters keep their own spacing
        tidy = GlyphPlaces().Replace(tidy, m => $"{m.Groups[1].Value}=\"{m.Groups[2].Value}\"");
        tidy = FontFamily().Replace(tidy, $"font-family=\"{Typefaces}\"");
        tidy = TextBody().Replace(tidy, m => $">{m.Groups[1].Value.Trim()}</text>");
        tidy = Head().Replace(
            tidy,
            FormattableString.Invariant($"<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" width=\"{width}\" height=\"{height}\" viewBox=\"0 0 {width} {height}\">\n")
                + $"<title>{WebUtility.HtmlEncode(title)}</title>\n<desc>{WebUtility.HtmlEncode(description)}</desc>",
            1);
        return tidy.ReplaceLineEndings("\n");
    }

    [GeneratedRegex("cl_[0-9a-f]+", RegexOptions.NonBacktracking)]
    private static partial Regex ClipId();

    [GeneratedRegex("\\b([xy])=\"([-0-9.e]+), [^\"]*\"", RegexOptions.NonBacktracking)]
    private static partial Regex GlyphPlaces();

    [GeneratedRegex("font-family=\"[^\"]*\"", RegexOptions.NonBacktracking)]
    private static partial Regex FontFamily();

    [GeneratedRegex(">\\s*([^<>]*?)\\s*</text>", RegexOptions.NonBacktracking)]
    private static partial Regex TextBody();

    [GeneratedRegex("<svg [^>]*>", RegexOptions.NonBacktracking)]
    private static partial Regex Head();
}
