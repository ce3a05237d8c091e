using System.Globalization;
using System.IO.Compression;
using System.Xml;

namespace DecayAtlas.Contributions.Workbooks;

/// <summary>
/// Walks through a workbook before any library opens it, under limits of its own: the bytes it really unpacks to, no
/// document type definitions (the root of XML bombs), depth, and rows and columns that a sheet may have. On the way it
/// collects what the library does not tell: the date system, cells that hold an error, and formulas without a result.
/// </summary>
internal sealed class WorkbookGuard
{
    private const int MostParts = 2000;
    private const int DeepestXml = 64;
    private const int MostFailedCells = 100_000;

    /// <summary>Sheets may share a part, so that the number of parts does not bound them.</summary>
    private const int MostSheets = 500;

    /// <summary>Spreadsheet programs allow 31.</summary>
    private const int LongestSheetName = 255;

    private static readonly string[] PartsThatAreRead = ["/officeDocument", "/worksheet", "/sharedStrings", "/styles"];

    private readonly IntakeLimits _limits;
    private readonly ByteBudget _budget;
    private readonly Dictionary<string, string> _sheetNameByRelation = new(StringComparer.Ordinal);
    private readonly Dictionary<string, string> _partByRelation = new(StringComparer.Ordinal);
    private readonly List<(string Part, int Column, int Row, SheetCell Cell)> _failedCells = [];
    private readonly Dictionary<string, int> _widthOfFailed = new(StringComparer.Ordinal);
    private int _sheets;
    private int _sharedTexts;
    private int _highestSharedText = -1;

    private WorkbookGuard(IntakeLimits limits, ReadingTime time)
    {
        _limits = limits;
        _budget = new ByteBudget(limits.MaxSpreadsheetBytes, time);
    }

    /// <summary>Days are counted from 1904-01-01 instead of 1900.</summary>
    public bool IsDate1904 { get; private set; }

    /// <summary>Errors and formulas without a result, by sheet, column (0-based) and row (1-based).</summary>
    public Dictionary<(string Sheet, int Column, int Row), SheetCell> FailedCells { get; } = [];

    /// <summary>Columns that the failed cells of a sheet reach; the library does not count those cells.</summary>
    public int WidthOfFailed(string sheet) => _widthOfFailed.GetValueOrDefault(sheet);

    /// <summary>Walks through; null when the workbook must not be opened, and then a finding says why.</summary>
    public static WorkbookGuard? Pass(Stream stream, string file, IntakeLimits limits, FindingList findings)
    {
        WorkbookGuard guard = new(limits, findings.Time);
        try
        {
            string? why = guard.Walk(stream);
            if (why is null)
                return guard;
            findings.Add(FindingCode.WorkbookTooLarge, file, why, "a workbook with nothing but the tables in it",
                "take out what does not belong to the tables, or send a data package");
        }
        catch (XmlException fault)
        {
            bool isDefinition = fault.Message.Contains("DTD", StringComparison.Ordinal);
            findings.Add(FindingCode.WorkbookBroken,
                file, isDefinition ? "a document type definition, which no spreadsheet program writes"
                    : "a part that is not well-formed XML",
                "a workbook as a spreadsheet program saves it", "open it in a spreadsheet program and save it again as .xlsx");
        }
        catch (Exception fault) when (ZipListing.IsBroken(fault))
        {
            findings.Add(FindingCode.WorkbookBroken, file, "a workbook that is cut off or damaged", "a whole workbook",
                "save it again as .xlsx and send it once more");
        }
        return null;
    }

    private string? Walk(Stream stream)
    {
        using ZipArchive archive = new(stream, ZipArchiveMode.Read, leaveOpen: true);
        if (archive.Entries.Count > MostParts)
            return string.Create(CultureInfo.InvariantCulture, $"{archive.Entries.Count} parts, more than {MostParts}");
        HashSet<string> seen = new(StringComparer.OrdinalIgnoreCase);
        foreach (ZipArchiveEntry entry in archive.Entries)
        {
            if (!seen.Add(entry.FullName.Replace('\\', '/')))
                throw new InvalidDataException("A part stands twice in the workbook.");
            bool isXml = entry.FullName.EndsWith(".xml", StringComparison.OrdinalIgnoreCase)
                || entry.FullName.EndsWith(".rels", StringComparison.OrdinalIgnoreCase);
            using BudgetedStream content = new(entry.Open(), _budget);
            string? why = isXml ? WalkXml(content, entry.FullName) : Drain(content);
            if (why is not null)
                return why;
        }
        if (!seen.Contains("xl/workbook.xml")
            && !_partByRelation.Values.Any(part => part.EndsWith("workbook.xml", StringComparison.OrdinalIgnoreCase)))
        {
            throw new InvalidDataException("There is no workbook in it.");
        }
        // The library would take the index of a text that is not there for a number.
        if (_highestSharedText >= _sharedTexts)
            throw new InvalidDataException("A cell names a shared text that is not there.");
        NameFailedCells();
        return null;
    }

    private string? Drain(BudgetedStream content)
    {
        byte[] buffer = new byte[1 << 15];
        while (content.Read(buffer) > 0)
        {
        }
        return _budget.IsOver ? TooManyBytes : null;
    }

    private string TooManyBytes =>
        string.Create(CultureInfo.InvariantCulture, $"more than {_limits.MaxSpreadsheetBytes} bytes once unpacked");

    private string? WalkXml(BudgetedStream content, string part)
    {
        using XmlReader xml = XmlReader.Create(content, new XmlReaderSettings
        {
            DtdProcessing = DtdProcessing.Prohibit,
            XmlResolver = null,
            IgnoreComments = true,
            IgnoreWhitespace = true,
        });
        string? root = null;
        CellWalk cells = new(this, part);
        try
        {
            while (xml.Read())
            {
                if (xml.Depth > DeepestXml)
                    return "XML nested too deeply";
                if (root is null && xml.NodeType == XmlNodeType.Element)
                    root = xml.LocalName;
                string? why = root switch
                {
                    "worksheet" => cells.Step(xml),
                    "workbook" => StepWorkbook(xml),
                    "sst" => StepSharedText(xml),
                    "Relationships" => StepRelation(xml),
                    _ => null,
                };
                if (why is not null)
                    return why;
            }
        }
        catch (XmlException) when (_budget.IsOver)
        {
            return TooManyBytes;
        }
        return _budget.IsOver ? TooManyBytes : null;
    }

    private string? StepWorkbook(XmlReader xml)
    {
        if (xml.NodeType != XmlNodeType.Element)
            return null;
        if (xml.LocalName == "workbookPr")
        {
            IsDate1904 = xml.GetAttribute("date1904") is "1" or "true";
        }
        else if (xml.LocalName == "sheet" && ++_sheets > MostSheets)
        {
            return string.Create(CultureInfo.InvariantCulture, $"more than {MostSheets} sheets");
        }
        else if (xml.LocalName == "sheet" && xml.GetAttribute("name") is { } name && name.Length > LongestSheetName)
        {
            return string.Create(
                CultureInfo.InvariantCulture, $"a sheet whose name has {name.Length} characters, more than {LongestSheetName}");
        }
        else if (xml.LocalName == "sheet" && xml.GetAttribute("name") is { } named && Relation(xml) is { } id)
        {
            _sheetNameByRelation[id] = named;
        }

        return null;
    }

    private string? StepSharedText(XmlReader xml)
    {
        if (xml.NodeType == XmlNodeType.Element && xml.LocalName == "si")
            _sharedTexts++;
        return null;
    }

    /// <summary>Parts that would be read must be XML that goes through this guard; the binary kind of workbook is another format.</summary>
    private string? StepRelation(XmlReader xml)
    {
        string type = xml.GetAttribute("Type") ?? "";
        string target = xml.GetAttribute("Target") ?? "";
        if (xml.LocalName != "Relationship" || !PartsThatAreRead.Any(end => type.EndsWith(end, StringComparison.Ordinal)))
            return null;
        if (!target.EndsWith(".xml", StringComparison.OrdinalIgnoreCase))
            throw new InvalidDataException("A part is not XML.");
        _partByRelation[xml.GetAttribute("Id") ?? ""] = target;
        return null;
    }

    private static string? Relation(XmlReader xml) =>
        xml.GetAttribute("id", "http://schemas.openxmlformats.org/officeDocument/2006/relationships")
        ?? xml.GetAttribute("id", "http://purl.oclc.org/ooxml/officeDocument/relationships");

    private void NameFailedCells()
    {
        foreach (IGrouping<string, (string Part, int Column, int Row, SheetCell Cell)> inPart in _failedCells.GroupBy(failed =>
            failed.Part, StringComparer.Ordinal))
        {
            foreach (string sheet in _sheetNameByRelation.Where(named => _partByRelation.GetValueOrDefault(named.Key) is { } target
                && inPart.Key.EndsWith(target.TrimStart('/'), StringComparison.OrdinalIgnoreCase)).Select(named => named.Value))
            {
                foreach ((_, int column, int row, SheetCell cell) in inPart)
                {
                    FailedCells[(sheet, column, row)] = cell;
                    _widthOfFailed[sheet] = Math.Max(WidthOfFailed(sheet), column + 1);
                }
            }
        }
    }

    private static int Number(string text) => int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int value) ? value
        : -1;

    /// <summary>Follows the rows and cells of one sheet.</summary>
    private sealed class CellWalk(WorkbookGuard guard, string part)
    {
        private int _row;
        private int _column = -1;
        private bool _isError, _isShared, _hasFormula, _hasValue;
        private string _value = "";

        /// <summary>Takes one node; says why the sheet must not be read, or null.</summary>
        public string? Step(XmlReader xml)
        {
            if (xml.NodeType == XmlNodeType.Text && _isError)
                _value = xml.Value;
            if (xml.NodeType == XmlNodeType.Text && _isShared && Number(xml.Value) is var index)
                guard._highestSharedText = index < 0 ? int.MaxValue : Math.Max(guard._highestSharedText, index);
            if (xml.NodeType == XmlNodeType.EndElement && xml.LocalName == "c")
                return Close();
            if (xml.NodeType != XmlNodeType.Element)
                return null;
            switch (xml.LocalName)
            {
                case "row":
                    _row = xml.GetAttribute("r") is { } stated ? Number(stated) : _row + 1;
                    _column = -1;
                    return _row is < 1 or > CellReference.MostRows ? $"a row numbered {FindingText.Quote(xml.GetAttribute("r"))}" : null;
                case "c":
                    _isError = xml.GetAttribute("t") == "e";
                    _isShared = xml.GetAttribute("t") == "s";
                    _hasFormula = _hasValue = false;
                    _value = "";
                    return Place(xml.GetAttribute("r"));
                case "f":
                    _hasFormula = true;
                    return null;
                case "v" or "is":
                    _hasValue = !xml.IsEmptyElement;
                    return null;
                default:
                    return null;
            }
        }

        private string? Place(string? reference)
        {
            if (reference is null)
                _column++;
            else if (!CellReference.TryParse(reference, out _column, out _))
                return $"a cell named {FindingText.Quote(reference)}";
            return _column >= guard._limits.MaxColumns
                ? string.Create(
                    CultureInfo.InvariantCulture, $"something in column {CellReference.Letters(_column)}, and a sheet may have "
                    + $"{guard._limits.MaxColumns} columns")
                : null;
        }

        private string? Close()
        {
            if (_isError)
                guard._failedCells.Add((part, _column, _row, new SheetCell(SheetCellKind.Error, _value.Length == 0 ? "#ERROR" : _value)));
            else if (_hasFormula && !_hasValue)
                guard._failedCells.Add((part, _column, _row, new SheetCell(SheetCellKind.Formula, "")));
            _isError = false;
            return guard._failedCells.Count > MostFailedCells
                ? string.Create(
                    CultureInfo.InvariantCulture, $"more than {MostFailedCells} cells with errors or formulas without a result") : null;
        }
    }
}
