using System.Globalization;
using System.IO.Compression;
using System.Security;
using System.Text;

namespace DecayAtlas.EndToEnd;

/// <summary>Writes a workbook (ECMA-376 part 1) with nothing in it but sheets of texts and numbers, as a spreadsheet program reads
/// it.</summary>
internal static class MinimalWorkbook
{
    private const string Main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
    private const string Relations = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
    private const string PackageRelations = "http://schemas.openxmlformats.org/package/2006/relationships";

    public static void Write(string path, params (string Name, string[][] Rows)[] sheets)
    {
        using ZipArchive zip = ZipFile.Open(path, ZipArchiveMode.Create);
        int[] numbers = [.. Enumerable.Range(1, sheets.Length)];
        Part("[Content_Types].xml",
            "<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\"><Default Extension=\"rels\" "
            + "ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/><Override PartName=\"/xl/workbook.xml\" "
            + "ContentType=\"application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml\"/>"
            + string.Concat(
                numbers.Select(
                    n => $"<Override PartName=\"/xl/worksheets/sheet{n}.xml\" "
                    + "ContentType=\"application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml\"/>")) + "</Types>");
        Part("_rels/.rels", $"<Relationships xmlns=\"{PackageRelations}\"><Relationship Id=\"r1\" Type=\"{Relations}/officeDocument\" "
            + "Target=\"xl/workbook.xml\"/></Relationships>");
        Part("xl/workbook.xml", $"<workbook xmlns=\"{Main}\" xmlns:r=\"{Relations}\"><sheets>"
            + string.Concat(
                numbers.Select(n => $"<sheet name=\"{SecurityElement.Escape(sheets[n - 1].Name)}\" sheetId=\"{n}\" r:id=\"r{n}\"/>"))
                + "</sheets></workbook>");
        Part("xl/_rels/workbook.xml.rels", $"<Relationships xmlns=\"{PackageRelations}\">"
            + string.Concat(
                numbers.Select(n => $"<Relationship Id=\"r{n}\" Type=\"{Relations}/worksheet\" Target=\"worksheets/sheet{n}.xml\"/>"))
                + "</Relationships>");
        foreach (int n in numbers)
        {
            Part($"xl/worksheets/sheet{n}.xml", $"<worksheet xmlns=\"{Main}\"><sheetData>"
                + string.Concat(
                    sheets[n - 1].Rows
                        .Select((row, r) => $"<row r=\"{r + 1}\">{string.Concat(row.Select((cell, c) => Cell(cell, r, c)))}</row>"))
                        + "</sheetData></worksheet>");
        }

        void Part(string name, string xml)
        {
            using Stream stream = zip.CreateEntry(name).Open();
            stream.Write(Encoding.UTF8.GetBytes("<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?>" + xml));
        }
    }

    private static string Cell(string text, int row, int column)
    {
        string at = $"{(char)('A' + column / 26 - 1)}{(char)('A' + column % 26)}{row + 1}".TrimStart('@');
        return text.Length == 0 ? ""
            : double.TryParse(text, NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out _)
                ? $"<c r=\"{at}\"><v>{text}</v></c>"
            : $"<c r=\"{at}\" t=\"inlineStr\"><is><t>{SecurityElement.Escape(text)}</t></is></c>";
    }
}
