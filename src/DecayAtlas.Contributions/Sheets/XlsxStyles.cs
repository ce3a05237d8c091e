using System.Globalization;
using System.Text;
using System.Xml;

namespace DecayAtlas.Contributions.Sheets;

/// <summary>The looks of cells by their style in a workbook (ECMA-376 part 1, 18.8).</summary>
internal sealed class XlsxStyles
{
    // The colours of old workbooks by their number, from 8 on (18.8.27); those from 0 to 7 are the same as those from 8 to 15.
    private const string Indexed = "000000FFFFFFFF000000FF000000FFFFFF00FF00FF00FFFF800000008000000080808000800080008080C0C0C0808080"
        + "9999FF993366FFFFCCCCFFFF660066FF80800066CCCCCCFF000080FF00FFFFFF0000FFFF8000808000000080800000FF"
        + "00CCFFCCFFFFCCFFCCFFFF9999CCFFFF99CCCC99FFFFCC993366FF33CCCC99CC00FFCC00FF9900FF6600666699969696"
        + "003366339966003300333300993300993366333399333333";

    /// <summary>The colours from 8 to 63, where a workbook brings none of its own.</summary>
    public static string[] Palette => [.. Enumerable.Range(0, Indexed.Length / 6).Select(i => Indexed.Substring(6 * i, 6))];

    private readonly List<CellFace> _faces = [];

    public CellFace this[int style] => style >= 0 && style < _faces.Count ? _faces[style] : CellFace.Plain;

    public void Read(XmlReader xml, IReadOnlyList<string> theme)
    {
        Dictionary<int, string> formats = [];
        List<bool> struck = [];
        List<string?> fills = [], inks = [];
        string? room = null;
        while (xml.Read())
        {
            if (xml.NodeType != XmlNodeType.Element)
                continue;
            switch (xml.LocalName)
            {
                case "numFmts" or "fonts" or "fills" or "cellXfs" or "cellStyleXfs" or "dxfs" or "borders" or "cellStyles":
                    room = xml.LocalName;
                    break;
                case "numFmt" when room == "numFmts":
                    formats[Number(xml, "numFmtId")] = xml.GetAttribute("formatCode") ?? "";
                    break;
                case "font" when room == "fonts":
                    struck.Add(false);
                    inks.Add(null);
                    break;
                // that of links says nothing of their rows
                case "color" when room == "fonts" && inks.Count > 0 && xml.GetAttribute("theme") is not ("10" or "11"):
                    inks[^1] = CellFace.InkOf(Colour(xml, theme));
                    break;
                case "strike" when room == "fonts" && struck.Count > 0:
                    struck[^1] = xml.GetAttribute("val") is not ("0" or "false");
                    break;
                case "fill" when room == "fills":
                    fills.Add(null);
                    break;
                case "patternFill" when room == "fills" && fills.Count > 0:
                    if (xml.GetAttribute("patternType") is null or "none" or "gray125")
                        room = "fills without colour";
                    break;
                case "fgColor" or "color" when room == "fills" && fills.Count > 0:
                    fills[^1] ??= Colour(xml, theme);
                    break;
                case "xf" when room == "cellXfs":
                    _faces.Add(Face(Number(xml, "numFmtId"), Number(xml, "fontId"), Number(xml, "fillId")));
                    break;
            }
            if (room == "fills without colour" && xml.LocalName is "patternFill")
            {
                // its colours are those of a pattern that is not drawn
                Skip(xml);
                room = "fills";
            }
        }

        CellFace Face(int format, int font, int fill)
        {
            (string? unit, bool isPercent) = Shown(format is 9 or 10 ? "0%" : formats.GetValueOrDefault(format, ""));
            CellFace face = new(fills.ElementAtOrDefault(fill), font >= 0 && font < struck.Count && struck[font], unit, isPercent,
                inks.ElementAtOrDefault(font));
            return face == CellFace.Plain ? CellFace.Plain : face;
        }
    }

    private static void Skip(XmlReader xml)
    {
        if (xml.IsEmptyElement)
            return;
        int depth = xml.Depth;
        while (xml.Read() && !(xml.NodeType == XmlNodeType.EndElement && xml.Depth == depth))
        {
        }
    }

    /// <summary>What a number format shows behind the number.</summary>
    private static (string? Unit, bool IsPercent) Shown(string format)
    {
        StringBuilder literal = new();
        bool isQuoted = false, isPercent = false;
        for (int i = 0; i < format.Length && (isQuoted || format[i] != ';'); i++)
        {
            char c = format[i];
            if (c == '"')
                isQuoted = !isQuoted;
            else if (isQuoted)
                literal.Append(c);
            else if (c == '\\' && i + 1 < format.Length)
                literal.Append(format[++i]);
            else if (c == '[')
                i = format.IndexOf(']', i) is >= 0 and int end ? end : format.Length;
            else
                isPercent |= c == '%';
        }
        string unit = literal.ToString().Trim();
        return (unit.Length is > 0 and <= 8 && format.AsSpan().ContainsAny('0', '#') ? unit : null, isPercent);
    }

    /// <summary>RRGGBB of a colour; null for white and for that of the window.</summary>
    private static string? Colour(XmlReader xml, IReadOnlyList<string> theme)
    {
        string? colour = xml.GetAttribute("rgb") is { Length: >= 6 } rgb ? rgb[^6..].ToUpperInvariant()
            : xml.GetAttribute("theme") is not null ? theme.ElementAtOrDefault(Number(xml, "theme"))
            : Number(xml, "indexed") is >= 0 and < 64 and int index
                ? Indexed.Substring(6 * (index < 8 ? index : index - 8), 6) : null;
        if (colour is null || !colour.All(char.IsAsciiHexDigit))
            return null;
        if (double.TryParse(xml.GetAttribute("tint"), NumberStyles.Float, CultureInfo.InvariantCulture, out double tint))
            colour = Tinted(colour, Math.Clamp(tint, -1, 1));
        return colour == "FFFFFF" ? null : colour;
    }

    // Lighter or darker by a share (18.8.19); by channel, which is near enough to tell colours apart.
    private static string Tinted(string colour, double tint) => string.Concat(Enumerable.Range(0, 3).Select(i =>
    {
        double channel = int.Parse(colour.AsSpan(2 * i, 2), NumberStyles.HexNumber, CultureInfo.InvariantCulture);
        return ((int)Math.Round(tint < 0 ? channel * (1 + tint) : channel + (255 - channel) * tint)).ToString("X2",
            CultureInfo.InvariantCulture);
    }));

    private static int Number(XmlReader xml, string name) =>
        int.TryParse(xml.GetAttribute(name), NumberStyles.None, CultureInfo.InvariantCulture, out int value) ? value : -1;
}
