using System.Globalization;
using System.IO.Compression;
using System.Xml;

namespace DecayAtlas.Contributions.Sheets;

/// <summary>Reads an OpenDocument spreadsheet (ISO/IEC 26300): values by their types, and what a person sees of them. Cells and rows that
/// are repeated are written out only where something stands in them.</summary>
internal sealed class OdsFile
{
    private const int DeepestXml = 64;
    private const int MostParts = 2000;
    private const int MostSheets = 500;

    private readonly IntakeLimits _limits;
    private readonly FindingList _findings;
    private readonly string _path;
    private readonly OdsStyles _styles = new();
    private readonly List<SeenSheet> _sheets = [];
    private long _unpacked;
    private long _held;

    private OdsFile(string path, IntakeLimits limits, FindingList findings) => (_path, _limits, _findings) = (path, limits, findings);

    public static bool Is(Stream zip)
    {
        zip.Position = 0;
        try
        {
            using ZipArchive archive = new(zip, ZipArchiveMode.Read, leaveOpen: true);
            return archive.GetEntry("content.xml") is not null && archive.GetEntry("xl/workbook.xml") is null;
        }
        catch (Exception fault) when (ZipListing.IsBroken(fault))
        {
            return false;
        }
        finally
        {
            zip.Position = 0;
        }
    }

    public static SeenFile? Read(string path, Stream zip, IntakeLimits limits, FindingList findings)
    {
        OdsFile file = new(path, limits, findings);
        try
        {
            using ZipArchive archive = new(zip, ZipArchiveMode.Read, leaveOpen: true);
            if (archive.Entries.Count > MostParts)
                throw new WorkbookTooLargeException(Invariant($"{archive.Entries.Count} parts, more than {MostParts}"));
            file.Within(archive.GetEntry("styles.xml"), file._styles.Read);
            file.Within(archive.GetEntry("content.xml"), file.Content);
            return new SeenFile(path, file._sheets, IsText: false, IsDate1904: false)
            {
                Pictures = archive.Entries.Count(entry => entry.FullName.StartsWith("Pictures/", StringComparison.Ordinal)),
            };
        }
        catch (WorkbookTooLargeException fault)
        {
            findings.Add(FindingCode.WorkbookTooLarge, path, fault.Message, "a workbook with nothing but the tables in it",
                "take out what does not belong to the tables, or send a data package");
        }
        catch (Exception fault) when (fault is XmlException || ZipListing.IsBroken(fault))
        {
            findings.Add(FindingCode.WorkbookBroken, path, "a workbook that is cut off, damaged or locked with a password",
                "a whole workbook without a password", "open it in a spreadsheet program and save it again");
        }
        return null;
    }

    private void Within(ZipArchiveEntry? entry, Action<XmlReader> read)
    {
        if (entry is null)
            return;
        using WatchedStream content = new(entry.Open(), bytes =>
        {
            _findings.Time.Ask();
            _unpacked += bytes;
            return _unpacked <= _limits.MaxSpreadsheetBytes ? bytes
                : throw new WorkbookTooLargeException(Invariant($"more than {_limits.MaxSpreadsheetBytes} bytes once unpacked"));
        });
        XmlReaderSettings settings = WorkbookGuard.XmlSettings();
        settings.IgnoreWhitespace = false;
        using XmlReader xml = XmlReader.Create(content, settings);
        read(xml);
    }

    private void Content(XmlReader xml)
    {
        while (xml.Read())
        {
            if (xml.Depth > DeepestXml)
                throw new WorkbookTooLargeException("XML nested too deeply");
            if (xml.NodeType != XmlNodeType.Element)
                continue;
            if (xml.LocalName == "automatic-styles")
            {
                using XmlReader styles = xml.ReadSubtree();
                _styles.Read(styles);
            }
            else if (xml.LocalName == "table" && xml.Prefix == "table")
            {
                if (_sheets.Count >= MostSheets)
                    throw new WorkbookTooLargeException(Invariant($"more than {MostSheets} sheets"));
                using XmlReader table = xml.ReadSubtree();
                Table(table);
            }
        }
    }

    private void Table(XmlReader xml)
    {
        xml.Read();
        string name = HalfLetter.Replaced(xml.GetAttribute("table:name") ?? Invariant($"{_sheets.Count + 1}"));
        List<SheetRow> rows = [];
        SeenSheet sheet = new(new Sheet(_path, name.Length > 255 ? name[..255] : name, rows))
        {
            IsHidden = _styles.IsHiddenTable(xml.GetAttribute("table:style-name")),
        };
        int column = 0, number = 1;
        while (xml.Read())
        {
            if (xml.Depth > DeepestXml)
                throw new WorkbookTooLargeException("XML nested too deeply");
            if (xml.NodeType != XmlNodeType.Element)
                continue;
            if (xml.LocalName == "table-column")
            {
                int times = Repeated(xml, "table:number-columns-repeated");
                for (int i = column; i < Math.Min(column + times, _limits.MaxColumns) && IsUnseen(xml); i++)
                    sheet.HiddenColumns.Add(i);
                column = Math.Min(column + times, CellReference.MostColumns);
            }
            else if (xml.LocalName == "table-row")
            {
                int times = Repeated(xml, "table:number-rows-repeated");
                bool isHidden = IsUnseen(xml);
                using XmlReader row = xml.ReadSubtree();
                SheetCell[] cells = Row(row, sheet, number);
                for (int i = 0; i < times && cells.Length > 0; i++)
                    Keep(rows, number + i, cells);
                for (int i = 0; i < times && isHidden && cells.Length > 0; i++)
                    sheet.HiddenRows.Add(number + i);
                number += times;
                if (number > CellReference.MostRows + 1)
                    number = CellReference.MostRows + 1;
            }
            else if (xml.LocalName is "shapes" or "forms" or "named-expressions")
            {
                xml.Skip();
            }
        }
        _sheets.Add(sheet);
    }

    private void Keep(List<SheetRow> rows, int number, SheetCell[] cells)
    {
        _findings.Time.Ask();
        _held += cells.Length;
        if (rows.Count > _limits.MaxRows)
            throw new WorkbookTooLargeException(Invariant($"more than {_limits.MaxRows} rows in a sheet"));
        if (_held > Sheet.MostCells)
            throw new WorkbookTooLargeException("more cells than any table of bags has");
        rows.Add(new SheetRow(number, cells));
    }

    private SheetCell[] Row(XmlReader xml, SeenSheet sheet, int number)
    {
        List<SheetCell> cells = [];
        int column = 0;
        while (xml.Read())
        {
            if (xml.Depth > DeepestXml)
                throw new WorkbookTooLargeException("XML nested too deeply");
            if (xml.NodeType != XmlNodeType.Element || xml.LocalName is not ("table-cell" or "covered-table-cell"))
                continue;
            int times = Repeated(xml, "table:number-columns-repeated");
            int over = Repeated(xml, "table:number-columns-spanned"), down = Repeated(xml, "table:number-rows-spanned");
            CellFace face = _styles.FaceOf(xml.GetAttribute("table:style-name"), xml.GetAttribute("office:value-type") == "percentage");
            (SheetCell value, string? comment) = Cell(xml);
            bool isSeen = value.Kind != SheetCellKind.Empty || comment is not null || face.Fill is not null;
            if (value.Kind != SheetCellKind.Empty && column + times > _limits.MaxColumns)
            {
                string letters = CellReference.Letters(column + times - 1);
                throw new WorkbookTooLargeException(
                    Invariant($"something in column {letters}, and a sheet may have {_limits.MaxColumns} columns"));
            }
            for (int i = column; isSeen && i < Math.Min(column + times, _limits.MaxColumns); i++)
            {
                if (value.Kind != SheetCellKind.Empty)
                {
                    while (cells.Count < i)
                        cells.Add(SheetCell.Empty);
                    cells.Add(value);
                }
                if (sheet.Faces.Count < SeenSheet.MostFaces && !ReferenceEquals(face, CellFace.Plain))
                    sheet.Faces[(number, i)] = face;
                if (comment is not null && sheet.Comments.Count < SeenSheet.MostFaces)
                    sheet.Comments[(number, i)] = comment;
            }
            if ((over > 1 || down > 1) && value.Kind != SheetCellKind.Empty && sheet.Merged.Count < SeenSheet.MostFaces)
                sheet.Merged.Add(new MergedArea(number, column, number + down - 1, column + over - 1));
            column = Math.Min(column + times, CellReference.MostColumns);
        }
        return [.. cells];
    }

    // The cell on which the reader stands, to its end.
    private static (SheetCell Value, string? Comment) Cell(XmlReader xml)
    {
        string? type = xml.GetAttribute("office:value-type"), shown = xml.GetAttribute("calcext:value-type");
        string? value = xml.GetAttribute("office:value"), date = xml.GetAttribute("office:date-value");
        string? yes = xml.GetAttribute("office:boolean-value"), text = xml.GetAttribute("office:string-value");
        bool hasFormula = xml.GetAttribute("table:formula") is not null;
        (string said, string comment) = xml.IsEmptyElement ? ("", "") : OdsText.In(xml);
        said = HalfLetter.Replaced(text ?? said).Trim();
        SheetCell cell = shown == "error" ? new SheetCell(SheetCellKind.Error, said.Length == 0 ? "#ERROR" : said)
            : type switch
            {
                "float" or "percentage" or "currency" when double.TryParse(value, NumberStyles.Float, CultureInfo.InvariantCulture,
                    out double number) && double.IsFinite(number) =>
                    new SheetCell(SheetCellKind.Number, number.ToString("R", CultureInfo.InvariantCulture)),
                "date" when IsDay(date) => new SheetCell(SheetCellKind.Date, date![..10]),
                "time" => new SheetCell(SheetCellKind.Time, said),
                "boolean" => new SheetCell(SheetCellKind.YesNo, yes == "true" ? "yes" : "no"),
                null when hasFormula && said.Length == 0 => new SheetCell(SheetCellKind.Formula, ""),
                _ => SheetCell.OfText(said),
            };
        return (cell, comment.Length == 0 ? null : HalfLetter.Replaced(comment));
    }

    private static bool IsDay(string? date) => date is { Length: >= 10 } && DateOnly.TryParseExact(date.AsSpan(0, 10), "yyyy-MM-dd",
        CultureInfo.InvariantCulture, DateTimeStyles.None, out _);

    private static bool IsUnseen(XmlReader xml) => xml.GetAttribute("table:visibility") is "collapse" or "filter";

    private static int Repeated(XmlReader xml, string name) =>
        int.TryParse(xml.GetAttribute(name), NumberStyles.None, CultureInfo.InvariantCulture, out int times)
            ? Math.Clamp(times, 1, CellReference.MostRows) : 1;
}
