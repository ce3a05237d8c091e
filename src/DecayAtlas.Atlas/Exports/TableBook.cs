using System.Text;
using System.Xml;

namespace DecayAtlas.Atlas.Exports;

/// <summary>
/// The tables as sheets of one workbook (ECMA-376), written forward, so that a row is let go as soon as it is written. Text stands in the
/// cells as text: none of it is ever a formula.
/// </summary>
internal static class TableBook
{
    /// <summary>Rows that a sheet holds below its head.</summary>
    public const int MostRows = 1_048_575;

    private const int MostLetters = 32_767;
    private const string Main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
    private const string Links = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
    private const string Types = "application/vnd.openxmlformats-officedocument.spreadsheetml.";

    // places in the formats below
    private const string Bold = "1", Day = "2";

    private static readonly DateOnly DayZero = new(1899, 12, 30);

    private static readonly XmlWriterSettings Settings = new()
    {
        Encoding = new UTF8Encoding(encoderShouldEmitUTF8Identifier: false),
        CloseOutput = false,
        CheckCharacters = false,
    };

    /// <summary>The tables that a sheet holds.</summary>
    public static IEnumerable<ExportedTable> Held(IEnumerable<ExportedTable> tables) => tables.Where(t => t.Rows <= MostRows);

    public static void Write(Stream stream, string releaseId, IReadOnlyList<ExportedTable> tables)
    {
        ExportedTable[] held = [.. Held(tables)];
        string[] names = ["contents", "columns", .. held.Select(t => t.Name)];
        using TimelessZip zip = new(stream);
        Add(zip, "[Content_Types].xml", xml => ContentTypes(xml, names.Length));
        Add(zip, "_rels/.rels", xml => Relations(xml, [("book", "officeDocument", "xl/workbook.xml")]));
        Add(zip, "xl/workbook.xml", xml => Book(xml, names));
        Add(zip, "xl/_rels/workbook.xml.rels", xml => Relations(xml,
        [
            ("styles", "styles", "styles.xml"),
            .. names.Select((_, i) => (Invariant($"sheet{i + 1}"), "worksheet", Invariant($"worksheets/sheet{i + 1}.xml"))),
        ]));
        Add(zip, "xl/styles.xml", Styles);
        AddSheet(1, ["table", "rows", "what a row is", "release " + releaseId], tables.Select(t => new object?[]
        {
            t.Name, t.Rows, t.Table.Description,
            t.Rows <= MostRows ? null : "more rows than a sheet holds, and so no sheet; it is whole in " + ReleaseExports.CsvOf(t.Name),
        }));
        AddSheet(2, ["table", "column", "type", "unit", "meaning"], tables.SelectMany(
            t => t.Columns.Select(c => new object?[] { t.Name, c.Name, c.Type, c.Unit, c.Description })));
        foreach ((int i, ExportedTable table) in held.Index())
            AddSheet(i + 3, [.. table.Columns.Select(c => c.Name)], RowsOf(table));

        void AddSheet(int number, string[] head, IEnumerable<object?[]> rows) =>
            Add(zip, Invariant($"xl/worksheets/sheet{number}.xml"), xml => Sheet(xml, head, rows));
    }

    private static void Add(TimelessZip zip, string path, Action<XmlWriter> write) => zip.Add(path, stream =>
    {
        using XmlWriter xml = XmlWriter.Create(stream, Settings);
        xml.WriteStartDocument(standalone: true);
        write(xml);
    });

    /// <summary>One array of cells, filled anew for each row.</summary>
    private static IEnumerable<object?[]> RowsOf(ExportedTable table)
    {
        object?[] cells = new object?[table.Columns.Count];
        foreach (ExportedRows rows in table.Parts())
        {
            for (int row = 0; row < rows.Count; row++)
            {
                for (int column = 0; column < cells.Length; column++)
                    cells[column] = rows[column, row];
                yield return cells;
            }
        }
    }

    private static void Sheet(XmlWriter xml, string[] head, IEnumerable<object?[]> rows)
    {
        xml.WriteStartElement("worksheet", Main);
        xml.WriteRaw("<sheetViews><sheetView workbookViewId=\"0\"><pane ySplit=\"1\" topLeftCell=\"A2\" activePane=\"bottomLeft\" "
            + "state=\"frozen\"/></sheetView></sheetViews><sheetFormatPr defaultRowHeight=\"15\"/>");
        xml.WriteRaw(Invariant($"<cols><col min=\"1\" max=\"{head.Length}\" width=\"18\" customWidth=\"1\"/></cols>"));
        xml.WriteStartElement("sheetData");
        xml.WriteStartElement("row");
        foreach (string name in head)
            Cell(xml, name, Bold);
        xml.WriteEndElement();
        foreach (object?[] row in rows)
        {
            xml.WriteStartElement("row");
            foreach (object? value in row)
                Cell(xml, value);
            xml.WriteEndElement();
        }

        xml.WriteEndElement();
        xml.WriteEndElement();
    }

    private static void Cell(XmlWriter xml, object? value, string? style = null)
    {
        xml.WriteStartElement("c");
        if ((value is DateOnly ? Day : style) is { } look)
            xml.WriteAttributeString("s", look);
        switch (value)
        {
            case null:
                break;
            case string text:
                xml.WriteAttributeString("t", "inlineStr");
                xml.WriteStartElement("is");
                xml.WriteStartElement("t");
                xml.WriteAttributeString("xml", "space", null, "preserve");
                xml.WriteString(Writable(text));
                xml.WriteEndElement();
                xml.WriteEndElement();
                break;
            case bool truth:
                xml.WriteAttributeString("t", "b");
                xml.WriteElementString("v", truth ? "1" : "0");
                break;
            case DateOnly day:
                xml.WriteElementString("v", (day.DayNumber - DayZero.DayNumber).ToString(InvariantCulture));
                break;
            case ExportedNumber number when !double.IsFinite(number.Value):
                xml.WriteAttributeString("t", "e");
                xml.WriteElementString("v", "#NUM!");
                break;
            case ExportedNumber number:
                xml.WriteElementString("v", number.Rounded.ToString("R", InvariantCulture));
                break;
            default:
                xml.WriteElementString("v", Convert.ToString(value, InvariantCulture));
                break;
        }

        xml.WriteEndElement();
    }

    /// <summary>What a cell can hold: so many letters, and those alone that XML has.</summary>
    private static string Writable(string text)
    {
        if (text.Length > MostLetters)
            text = text[..(MostLetters - 1)] + "…";
        return text.All(XmlConvert.IsXmlChar) ? text
            : string.Concat(text.EnumerateRunes().Select(r => r.IsBmp && !XmlConvert.IsXmlChar((char)r.Value) ? "\uFFFD" : r.ToString()));
    }

    private static void ContentTypes(XmlWriter xml, int sheets)
    {
        xml.WriteStartElement("Types", "http://schemas.openxmlformats.org/package/2006/content-types");
        xml.WriteRaw("<Default Extension=\"rels\" ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/>");
        Part("/xl/workbook.xml", "sheet.main");
        Part("/xl/styles.xml", "styles");
        for (int i = 1; i <= sheets; i++)
            Part(Invariant($"/xl/worksheets/sheet{i}.xml"), "worksheet");
        xml.WriteEndElement();

        void Part(string path, string kind) => xml.WriteRaw($"<Override PartName=\"{path}\" ContentType=\"{Types}{kind}+xml\"/>");
    }

    private static void Relations(XmlWriter xml, IEnumerable<(string Id, string Kind, string Target)> relations)
    {
        xml.WriteStartElement("Relationships", "http://schemas.openxmlformats.org/package/2006/relationships");
        foreach ((string id, string kind, string target) in relations)
            xml.WriteRaw($"<Relationship Id=\"{id}\" Type=\"{Links}/{kind}\" Target=\"{target}\"/>");
        xml.WriteEndElement();
    }

    private static void Book(XmlWriter xml, string[] sheets)
    {
        xml.WriteStartElement("workbook", Main);
        xml.WriteAttributeString("xmlns", "r", null, Links);
        xml.WriteRaw("<bookViews><workbookView/></bookViews><sheets>");
        foreach ((int i, string name) in sheets.Index())
            xml.WriteRaw(Invariant($"<sheet name=\"{name}\" sheetId=\"{i + 1}\" r:id=\"sheet{i + 1}\"/>"));
        xml.WriteRaw("</sheets>");
        xml.WriteEndElement();
    }

    private static void Styles(XmlWriter xml)
    {
        xml.WriteStartElement("styleSheet", Main);
        xml.WriteRaw("""
            <numFmts count="1"><numFmt numFmtId="164" formatCode="yyyy\-mm\-dd"/></numFmts>
            <fonts count="2"><font><sz val="11"/><name val="Arial"/></font><font><b/><sz val="11"/><name val="Arial"/></font></fonts>
            <fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills>
            <borders count="1"><border/></borders><cellStyleXfs count="1"><xf/></cellStyleXfs>
            <cellXfs count="3"><xf xfId="0"/><xf xfId="0" fontId="1" applyFont="1"/><xf xfId="0" numFmtId="164" applyNumberFormat="1"/></cellXfs>
            <cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles>
            """.ReplaceLineEndings("\n"));
        xml.WriteEndElement();
    }
}
