using System.Xml;

namespace DecayAtlas.Contributions.Sheets;

/// <summary>Looks of cells and tables by the names of their styles in an OpenDocument spreadsheet.</summary>
internal sealed class OdsStyles
{
    private const int MostSteps = 10;

    private readonly Dictionary<string, (string? Parent, string? Fill, bool? IsStruck, string? Ink)> _cells = [];
    private readonly HashSet<string> _hiddenTables = [];
    private readonly Dictionary<(string? Style, bool IsPercent), CellFace> _faces = [];

    public bool IsHiddenTable(string? style) => style is not null && _hiddenTables.Contains(style);

    public void Read(XmlReader xml)
    {
        string? name = null, family = null;
        while (xml.Read())
        {
            if (xml.NodeType != XmlNodeType.Element)
                continue;
            switch (xml.LocalName)
            {
                case "style":
                    (name, family) = (xml.GetAttribute("style:name"), xml.GetAttribute("style:family"));
                    if (name is not null && family == "table-cell")
                        _cells[name] = (xml.GetAttribute("style:parent-style-name"), null, null, null);
                    break;
                case "table-cell-properties" when name is not null && family == "table-cell":
                    if (xml.GetAttribute("fo:background-color") is { } colour)
                        _cells[name] = _cells[name] with { Fill = colour };
                    break;
                case "text-properties" when name is not null && family == "table-cell":
                    if (xml.GetAttribute("style:text-line-through-style") is { } line)
                        _cells[name] = _cells[name] with { IsStruck = line != "none" };
                    if (xml.GetAttribute("fo:color") is { } ink)
                        _cells[name] = _cells[name] with { Ink = ink };
                    break;
                case "table-properties" when name is not null && family == "table" && xml.GetAttribute("table:display") == "false":
                    _hiddenTables.Add(name);
                    break;
            }
        }
    }

    public CellFace FaceOf(string? style, bool isPercent)
    {
        if (_faces.TryGetValue((style, isPercent), out CellFace? known))
            return known;
        string? fill = null, ink = null;
        bool? isStruck = null;
        string? at = style;
        for (int step = 0; at is not null && step < MostSteps && _cells.TryGetValue(at, out (string? Parent, string? Fill,
            bool? IsStruck, string? Ink) one);
            step++)
        {
            fill ??= one.Fill;
            isStruck ??= one.IsStruck;
            ink ??= one.Ink;
            at = one.Parent;
        }
        CellFace face = new(HtmlColour.Of(fill), isStruck ?? false, null, isPercent, CellFace.InkOf(HtmlColour.Of(ink)));
        return _faces[(style, isPercent)] = face == CellFace.Plain ? CellFace.Plain : face;
    }
}
