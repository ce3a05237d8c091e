using System.Globalization;
using System.IO.Compression;
using System.Security;
using System.Text;

namespace DecayAtlas.Contributions.Tests;

/// <summary>The XML of one cell as it shall stand in the file, for what no program writes.</summary>
internal sealed record RawCell(string Xml);

/// <summary>A day number with the format of a date.</summary>
internal sealed record DateCell(double Serial);

/// <summary>
/// Writes a minimal workbook (ECMA-376 part 1), or one with a fault in it. Strings go into the shared table, as spreadsheet programs do it.
/// </summary>
internal sealed class XlsxMaker
{
    private const string Main = "xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"";
    private const string Relations = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";

    private readonly List<(string Name, List<object?[]> Rows)> _sheets = [];
    private readonly Dictionary<string, int> _shared = new(StringComparer.Ordinal);

    private readonly Dictionary<string, string> _merged = new(StringComparer.Ordinal);

    public bool IsDate1904 { get; init; }

    /// <summary>Further or replaced parts of the archive.</summary>
    public Dictionary<string, byte[]> Parts { get; } = [];

    /// <summary>The example of the schema as a workbook; dates as texts, numbers as numbers.</summary>
    public static XlsxMaker Example()
    {
        XlsxMaker maker = new();
        maker.Sheet("package", ["name", "value"], ["name", "example-meadow-and-wood"], ["revision", 1.0], ["created", "2024-09-02"],
            ["licence", "CC-BY-4.0"],
            ["contributor", "example-group"], ["campaign", "example-2024"], ["protocol", "two-litters-90-days"], ["contact_name",
            "Example Group"], ["contact_email", "group@example.org"]);
        foreach (string table in new[] { "sites", "lots", "bags", "samples" })
        {
            TableSchema schema = SchemaCatalogue.Tables.First(candidate => candidate.Name == table);
            List<object?[]> rows = [[.. schema.ColumnNames]];
            Sheet sheet =
                WideCsv.Rows(File.ReadAllText(Path.Combine(Tests.Example.Folder, table + ".csv")), table, ',', IntakeLimits.Default,
                    new FindingList())!;
            foreach (SheetRow row in sheet.Rows.Skip(1))
                rows.Add([.. schema.Fields.Select((field, i) => Typed(field, row[i].Text))]);
            maker._sheets.Add((table, rows));
        }
        return maker;
    }

    public XlsxMaker Sheet(string name, params object?[][] rows)
    {
        _sheets.Add((name, [.. rows]));
        return this;
    }

    /// <summary>Merges the cells of a range, as D2:D3.</summary>
    public XlsxMaker Merge(string name, string places)
    {
        _merged[name] = places;
        return this;
    }

    public XlsxMaker Drop(string name)
    {
        _sheets.RemoveAll(sheet => sheet.Name == name);
        return this;
    }

    public XlsxMaker Rename(string from, string to)
    {
        int at = _sheets.FindIndex(sheet => sheet.Name == from);
        _sheets[at] = (to, _sheets[at].Rows);
        return this;
    }

    /// <summary>Sets a cell; row 1 is the header.</summary>
    public XlsxMaker Set(string sheet, int row, string column, object? value)
    {
        List<object?[]> rows = _sheets.First(known => known.Name == sheet).Rows;
        rows[row - 1][Array.IndexOf(rows[0], column)] = value;
        return this;
    }

    public XlsxMaker SetEvery(string sheet, string column, Func<object?, object?> change)
    {
        List<object?[]> rows = _sheets.First(known => known.Name == sheet).Rows;
        int at = Array.IndexOf(rows[0], column);
        foreach (object?[] row in rows.Skip(1))
            row[at] = change(row[at]);
        return this;
    }

    public List<object?[]> Rows(string sheet) => _sheets.First(known => known.Name == sheet).Rows;

    public byte[] ToBytes()
    {
        using MemoryStream bytes = new();
        using (ZipArchive zip = new(bytes, ZipArchiveMode.Create, leaveOpen: true))
        {
            string[] sheetXml = [.. _sheets.Select(SheetXml)];
            Dictionary<string, byte[]> parts = new()
            {
                ["[Content_Types].xml"] =
                    Utf8("<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\"><Default Extension=\"xml\" "
                    + "ContentType=\"application/xml\"/><Default Extension=\"rels\" "
                    + "ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/></Types>"),
                ["_rels/.rels"] =
                    Utf8(RelationsXml($"<Relationship Id=\"r1\" Type=\"{Relations}/officeDocument\" Target=\"xl/workbook.xml\"/>")),
                ["xl/workbook.xml"] =
                    Utf8($"<workbook {Main} xmlns:r=\"{Relations}\"><workbookPr date1904=\"{(IsDate1904 ? 1 : 0)}\"/><sheets>"
                    + string.Concat(
                        _sheets.Select((sheet, i) =>
                            Inv($"<sheet name=\"{SecurityElement.Escape(sheet.Name)}\" sheetId=\"{i + 1}\" r:id=\"s{i + 1}\"/>")))
                            + "</sheets></workbook>"),
                ["xl/_rels/workbook.xml.rels"] = Utf8(RelationsXml(
                    string.Concat(
                        _sheets.Select((_, i) =>
                            Inv($"<Relationship Id=\"s{i + 1}\" Type=\"{Relations}/worksheet\" Target=\"worksheets/sheet{i + 1}.xml\"/>")))
                    + $"<Relationship Id=\"st\" Type=\"{Relations}/styles\" Target=\"styles.xml\"/><Relationship Id=\"ss\" "
                    + $"Type=\"{Relations}/sharedStrings\" Target=\"sharedStrings.xml\"/>")),
                ["xl/styles.xml"] =
                    Utf8($"<styleSheet {Main}><cellXfs count=\"2\"><xf numFmtId=\"0\"/><xf numFmtId=\"14\" "
                    + "applyNumberFormat=\"1\"/></cellXfs></styleSheet>"),
                ["xl/sharedStrings.xml"] =
                    Utf8($"<sst {Main}>"
                        + string.Concat(_shared.OrderBy(entry => entry.Value)
                            .Select(entry => $"<si><t xml:space=\"preserve\">{SecurityElement.Escape(entry.Key)}</t></si>")) + "</sst>"),
            };
            for (int i = 0; i < sheetXml.Length; i++)
                parts[Inv($"xl/worksheets/sheet{i + 1}.xml")] = Utf8(sheetXml[i]);
            foreach ((string name, byte[] content) in Parts)
                parts[name] = content;
            foreach ((string name, byte[] content) in parts)
            {
                using Stream stream = zip.CreateEntry(name).Open();
                stream.Write(content);
            }
        }
        return bytes.ToArray();
    }

    public static byte[] Utf8(string xml) => Encoding.UTF8.GetBytes("<?xml version=\"1.0\" encoding=\"UTF-8\"?>" + xml);

    private static object? Typed(FieldSchema field, string text) => text.Length == 0 ? null
        : field.Type is FieldType.Number or FieldType.WholeNumber ? double.Parse(text, CultureInfo.InvariantCulture) : text;

    private string SheetXml((string Name, List<object?[]> Rows) sheet)
    {
        StringBuilder xml = new($"<worksheet {Main}><sheetData>");
        for (int row = 0; row < sheet.Rows.Count; row++)
        {
            xml.Append(Inv($"<row r=\"{row + 1}\">"));
            for (int column = 0; column < sheet.Rows[row].Length; column++)
                xml.Append(CellXml(CellReference.Of(column, row + 1), sheet.Rows[row][column]));
            xml.Append("</row>");
        }
        xml.Append("</sheetData>");
        if (_merged.TryGetValue(sheet.Name, out string? places))
            xml.Append(Inv($"<mergeCells count=\"1\"><mergeCell ref=\"{places}\"/></mergeCells>"));
        return xml.Append("</worksheet>").ToString();
    }

    private string CellXml(string at, object? value) => value switch
    {
        null => "",
        RawCell raw => raw.Xml.Replace("{at}", at, StringComparison.Ordinal),
        DateCell date => Inv($"<c r=\"{at}\" s=\"1\"><v>{date.Serial}</v></c>"),
        bool yes => Inv($"<c r=\"{at}\" t=\"b\"><v>{(yes ? 1 : 0)}</v></c>"),
        double number => Inv($"<c r=\"{at}\"><v>{number:R}</v></c>"),
        string text => Inv($"<c r=\"{at}\" t=\"s\"><v>{Shared(text)}</v></c>"),
        _ => throw new ArgumentException("Not a cell of this maker.", nameof(value)),
    };

    private int Shared(string text)
    {
        if (!_shared.TryGetValue(text, out int index))
            _shared[text] = index = _shared.Count;
        return index;
    }

    private static string RelationsXml(
        string inside) => $"<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">{inside}</Relationships>";

    private static string Inv(FormattableString text) => FormattableString.Invariant(text);
}
