using System.Globalization;
using System.IO.Compression;
using System.Text;
using System.Xml;

namespace DecayAtlas.Contributions.Sheets;

/// <summary>
/// What a person sees of a workbook besides values: hidden rows, columns and sheets, colours, crossed-out cells, comments, merged cells.
/// Only for a workbook that passed the <see cref="WorkbookGuard"/>, which bounds it; what cannot be made out here is not there.
/// </summary>
internal sealed class XlsxLooks
{
    private readonly Dictionary<string, ZipArchiveEntry> _parts = new(StringComparer.OrdinalIgnoreCase);
    private readonly ReadingTime _time;
    private readonly XlsxStyles _styles = new();
    private int _held;

    private XlsxLooks(ZipArchive archive, ReadingTime time)
    {
        _time = time;
        foreach (ZipArchiveEntry entry in archive.Entries)
            _parts.TryAdd(entry.FullName.Replace('\\', '/'), entry);
    }

    /// <summary>By the name of the sheet; the cells themselves are not read.</summary>
    public static Dictionary<string, SeenSheet> Read(Stream workbook, ReadingTime time)
    {
        Dictionary<string, SeenSheet> seen = [];
        try
        {
            using ZipArchive archive = new(workbook, ZipArchiveMode.Read, leaveOpen: true);
            new XlsxLooks(archive, time).Into(seen);
        }
        catch (Exception fault) when (fault is XmlException || ZipListing.IsBroken(fault))
        {
            // the values were read, and how they look is more than what is needed of them
        }
        return seen;
    }

    public static int Pictures(Stream workbook)
    {
        workbook.Position = 0;
        using ZipArchive archive = new(workbook, ZipArchiveMode.Read, leaveOpen: true);
        return archive.Entries.Count(entry => entry.FullName.StartsWith("xl/media/", StringComparison.OrdinalIgnoreCase));
    }

    private void Into(Dictionary<string, SeenSheet> seen)
    {
        string main = _parts.Keys.FirstOrDefault(name => name.EndsWith("workbook.xml", StringComparison.OrdinalIgnoreCase)) ?? "";
        List<(string Id, string Type, string Target)> relations = RelationsOf(main);
        List<string> theme = [];
        foreach ((_, _, string target) in relations.Where(relation => relation.Type.EndsWith("/theme", StringComparison.Ordinal)))
            theme = ThemeIn(target);
        foreach ((_, _, string target) in relations.Where(relation => relation.Type.EndsWith("/styles", StringComparison.Ordinal)))
            Within(target, xml => _styles.Read(xml, theme));
        foreach ((string name, string id, bool isHidden) in SheetsIn(main))
        {
            SeenSheet sheet = new(new Sheet("", name, [])) { IsHidden = isHidden };
            seen.TryAdd(name, sheet);
            foreach ((_, _, string part) in relations.Where(relation => relation.Id == id).Take(1))
            {
                Within(part, xml => ReadSheet(xml, sheet));
                foreach ((_, string type, string target) in RelationsOf(part))
                {
                    if (type.EndsWith("/comments", StringComparison.Ordinal))
                        Within(target, xml => ReadComments(xml, "comment", sheet));
                    else if (type.EndsWith("/threadedComment", StringComparison.Ordinal))
                        Within(target, xml => ReadComments(xml, "threadedComment", sheet));
                }
            }
        }
    }

    private List<(string Name, string Id, bool IsHidden)> SheetsIn(string part)
    {
        List<(string, string, bool)> sheets = [];
        Within(part, xml =>
        {
            while (xml.Read())
            {
                if (xml is { NodeType: XmlNodeType.Element, LocalName: "sheet" } && xml.GetAttribute("name") is { } name)
                {
                    string id = "";
                    while (xml.MoveToNextAttribute())
                        id = xml.LocalName == "id" && xml.Prefix.Length > 0 ? xml.Value : id;
                    xml.MoveToElement();
                    sheets.Add((name, id, xml.GetAttribute("state") is "hidden" or "veryHidden"));
                }
            }
        });
        return sheets;
    }

    private List<(string Id, string Type, string Target)> RelationsOf(string part)
    {
        int slash = part.LastIndexOf('/');
        string folder = slash < 0 ? "" : part[..(slash + 1)];
        List<(string, string, string)> relations = [];
        Within($"{folder}_rels/{part[(slash + 1)..]}.rels", xml =>
        {
            while (xml.Read())
            {
                if (xml is { NodeType: XmlNodeType.Element, LocalName: "Relationship" } && xml.GetAttribute("Target") is { } target)
                    relations.Add((xml.GetAttribute("Id") ?? "", xml.GetAttribute("Type") ?? "", Resolved(folder, target)));
            }
        });
        return relations;
    }

    private static string Resolved(string folder, string target)
    {
        if (target.StartsWith('/'))
            return target[1..];
        List<string> steps = [.. folder.Split('/', StringSplitOptions.RemoveEmptyEntries)];
        foreach (string step in target.Split('/'))
        {
            if (step == ".." && steps.Count > 0)
                steps.RemoveAt(steps.Count - 1);
            else if (step is not (".." or "."))
                steps.Add(step);
        }
        return string.Join('/', steps);
    }

    // The twelve colours of a theme in the order in which styles number them: light before dark (18.8.3, 20.1.6.2).
    private List<string> ThemeIn(string part)
    {
        List<string> colours = [];
        Within(part, xml =>
        {
            bool isScheme = false;
            while (xml.Read() && colours.Count < 12)
            {
                if (xml.NodeType != XmlNodeType.Element)
                    continue;
                isScheme |= xml.LocalName == "clrScheme";
                if (isScheme && xml.LocalName == "srgbClr")
                    colours.Add((xml.GetAttribute("val") ?? "").ToUpperInvariant());
                else if (isScheme && xml.LocalName == "sysClr")
                    colours.Add((xml.GetAttribute("lastClr") ?? "000000").ToUpperInvariant());
            }
        });
        return colours.Count < 4 ? colours : [colours[1], colours[0], colours[3], colours[2], .. colours.Skip(4)];
    }

    private void ReadSheet(XmlReader xml, SeenSheet sheet)
    {
        int row = 0, column = -1;
        while (xml.Read())
        {
            if (xml.NodeType != XmlNodeType.Element)
                continue;
            switch (xml.LocalName)
            {
                case "col" when IsSet(xml, "hidden"):
                    int last = Math.Min(Number(xml, "max"), CellReference.MostColumns);
                    for (int i = Math.Max(1, Number(xml, "min")); i <= last; i++)
                        sheet.HiddenColumns.Add(i - 1);
                    break;
                case "row":
                    _time.Ask();
                    row = Number(xml, "r") is > 0 and int stated ? stated : row + 1;
                    column = -1;
                    if (IsSet(xml, "hidden"))
                        sheet.HiddenRows.Add(row);
                    break;
                case "c":
                    if (!CellReference.TryParse(xml.GetAttribute("r"), out int at, out _))
                        at = column + 1;
                    column = at;
                    CellFace face = _styles[Number(xml, "s")];
                    if (!ReferenceEquals(face, CellFace.Plain) && _held++ < SeenSheet.MostFaces)
                        sheet.Faces[(row, column)] = face;
                    break;
                case "mergeCell" when _held++ < SeenSheet.MostFaces && xml.GetAttribute("ref")?.Split(':') is [var from, var to]
                    && CellReference.TryParse(from, out int left, out int top) && CellReference.TryParse(to, out int right, out int bottom)
                    && left <= right && top <= bottom:
                    sheet.Merged.Add(new MergedArea(top, left, bottom, right));
                    break;
            }
        }
    }

    // A thread replaces the text that stands in its place for older programs.
    private void ReadComments(XmlReader xml, string element, SeenSheet sheet)
    {
        StringBuilder text = new();
        (int, int)? place = null;
        bool isThread = element == "threadedComment";
        while (xml.Read())
        {
            if (xml.NodeType == XmlNodeType.Element && xml.LocalName == element)
            {
                place = CellReference.TryParse(xml.GetAttribute("ref"), out int column, out int row) ? (row, column) : null;
                text.Clear();
            }
            else if (xml.NodeType is XmlNodeType.Text or XmlNodeType.SignificantWhitespace && text.Length < FieldSchema.LongestOfAll)
            {
                text.Append(xml.Value);
            }
            else if (xml.NodeType == XmlNodeType.EndElement && xml.LocalName == element && place is { } at
                && _held++ < SeenSheet.MostFaces)
            {
                string said = HalfLetter.Replaced(text.ToString()).Trim();
                bool isFirst = !sheet.Comments.TryGetValue(at, out string? other)
                    || (isThread && other.StartsWith('[') && other.Contains("hread", StringComparison.Ordinal));
                sheet.Comments[at] = isFirst ? said : $"{other}; {said}";
            }
        }
    }

    private void Within(string part, Action<XmlReader> read)
    {
        if (!_parts.TryGetValue(part, out ZipArchiveEntry? entry))
            return;
        using WatchedStream content = new(entry.Open(), bytes =>
        {
            _time.Ask();
            return bytes;
        });
        using XmlReader xml = XmlReader.Create(content, WorkbookGuard.XmlSettings());
        read(xml);
    }

    private static bool IsSet(XmlReader xml, string name) => xml.GetAttribute(name) is "1" or "true";

    private static int Number(XmlReader xml, string name) =>
        int.TryParse(xml.GetAttribute(name), NumberStyles.None, CultureInfo.InvariantCulture, out int value) ? value : -1;
}
