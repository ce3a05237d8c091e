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

    // Sheets may share a part, so that the number of parts does not bound them.
    private const int MostSheets = 500;

    // Spreadsheet programs allow 31.
    private const int LongestSheetName = 255;

    private static readonly string[] PartsThatAreRead = ["/officeDocument", "/worksheet", "/sharedStrings", "/styles"];

    private readonly IntakeLimits _limits;
    private readonly ReadingTime _time;
    private readonly Dictionary<string, string> _sheetNameByRelation = [];
    private readonly Dictionary<string, string> _partByRelation = [];
    private readonly List<(string Part, int Column, int Row, SheetCell Cell)> _failedCells = [];
    private readonly Dictionary<string, int> _widthOfFailed = [];
    private long _unpacked;
    private int _sheets;
    private int _sharedTexts;
    private int _highestSharedText = -1;

    private WorkbookGuard(IntakeLimits limits, ReadingTime time)
    {
        _limits = limits;
        _time = time;
    }

    /// <summary>A column has no width, which the library does not bear.</summary>
    public bool LacksWidths { get; private set; }

    /// <summary>Days are counted from 1904-01-01 instead of 1900.</summary>
    public bool IsDate1904 { get; private set; }

    /// <summary>Errors and formulas without a result, by sheet, column (0-based) and row (1-based).</summary>
    public Dictionary<(string Sheet, int Column, int Row), SheetCell> FailedCells { get; } = [];

    /// <summary>Columns that the failed cells of a sheet reach; the library does not count those cells.</summary>
    public int WidthOfFailed(string sheet) => _widthOfFailed.GetValueOrDefault(sheet);

    public static WorkbookGuard? Pass(Stream stream, string file, IntakeLimits limits, FindingList findings)
    {
        WorkbookGuard guard = new(limits, findings.Time);
        try
        {
            guard.Walk(stream);
            return guard;
        }
        catch (WorkbookTooLargeException fault)
        {
            findings.Add(FindingCode.WorkbookTooLarge, file, fault.Message, "a workbook with nothing but the tables in it",
                "take out what does not belong to the tables, or send a data package");
        }
        catch (XmlException fault)
        {
            bool isDefinition = fault.Message.Contains("DTD", StringComparison.OrdinalIgnoreCase);
            findings.Add(FindingCode.WorkbookBroken, file, isDefinition ? "a document type definition, which no spreadsheet program writes"
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

    /// <summary>No document type definitions, and nothing from elsewhere.</summary>
    public static XmlReaderSettings XmlSettings() => new()
    {
        DtdProcessing = DtdProcessing.Prohibit,
        XmlResolver = null,
        IgnoreComments = true,
        IgnoreWhitespace = true,
    };

    private void Walk(Stream stream)
    {
        using ZipArchive archive = new(stream, ZipArchiveMode.Read, leaveOpen: true);
        if (archive.Entries.Count > MostParts)
            throw new WorkbookTooLargeException(Invariant($"{archive.Entries.Count} parts, more than {MostParts}"));
        HashSet<string> seen = new(StringComparer.OrdinalIgnoreCase);
        foreach (ZipArchiveEntry entry in archive.Entries)
        {
            if (!seen.Add(entry.FullName.Replace('\\', '/')))
                throw new InvalidDataException("A part stands twice in the workbook.");
            bool isXml = entry.FullName.EndsWith(".xml", StringComparison.OrdinalIgnoreCase)
                || entry.FullName.EndsWith(".rels", StringComparison.OrdinalIgnoreCase);
            using WatchedStream content = new(entry.Open(), Count);
            if (isXml)
                WalkXml(content, entry.FullName);
            else
                content.CopyTo(Stream.Null);
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
    }

    // The limit is that of all parts together, whatever the archive says about their lengths.
    private int Count(int bytes)
    {
        _time.Ask();
        _unpacked += bytes;
        return _unpacked <= _limits.MaxSpreadsheetBytes ? bytes
            : throw new WorkbookTooLargeException(Invariant($"more than {_limits.MaxSpreadsheetBytes} bytes once unpacked"));
    }

    private void WalkXml(WatchedStream content, string part)
    {
        using XmlReader xml = XmlReader.Create(content, XmlSettings());
        string? root = null;
        CellWalk cells = new(this, part);
        while (xml.Read())
        {
            if (xml.Depth > DeepestXml)
                throw new WorkbookTooLargeException("XML nested too deeply");
            bool isElement = xml.NodeType == XmlNodeType.Element;
            if (isElement)
                root ??= xml.LocalName;
            if (root == "worksheet")
                cells.Step(xml);
            else if (isElement && root == "workbook")
                StepWorkbook(xml);
            else if (isElement && root == "sst" && xml.LocalName == "si")
                _sharedTexts++;
            else if (isElement && root == "Relationships" && xml.LocalName == "Relationship")
                StepRelation(xml);
        }
    }

    private void StepWorkbook(XmlReader xml)
    {
        if (xml.LocalName == "workbookPr")
            IsDate1904 = xml.GetAttribute("date1904") is "1" or "true";
        if (xml.LocalName != "sheet")
            return;
        if (++_sheets > MostSheets)
            throw new WorkbookTooLargeException(Invariant($"more than {MostSheets} sheets"));
        string? name = xml.GetAttribute("name");
        if (name?.Length > LongestSheetName)
        {
            throw new WorkbookTooLargeException(
                Invariant($"a sheet whose name has {name.Length} characters, more than {LongestSheetName}"));
        }
        if (name is not null && Relation(xml) is { } id)
            _sheetNameByRelation[id] = name;
    }

    // Parts that would be read must be XML that goes through this guard; the binary kind of workbook is another format.
    private void StepRelation(XmlReader xml)
    {
        string type = xml.GetAttribute("Type") ?? "";
        string target = xml.GetAttribute("Target") ?? "";
        if (!PartsThatAreRead.Any(end => type.EndsWith(end, StringComparison.Ordinal)))
            return;
        if (!target.EndsWith(".xml", StringComparison.OrdinalIgnoreCase))
            throw new InvalidDataException("A part is not XML.");
        _partByRelation[xml.GetAttribute("Id") ?? ""] = target;
    }

    private static string? Relation(XmlReader xml) =>
        xml.GetAttribute("id", "http://schemas.openxmlformats.org/officeDocument/2006/relationships")
        ?? xml.GetAttribute("id", "http://purl.oclc.org/ooxml/officeDocument/relationships");

    private void NameFailedCells()
    {
        foreach (IGrouping<string, (string Part, int Column, int Row, SheetCell Cell)> inPart in _failedCells.GroupBy(failed =>
            failed.Part))
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

    private sealed class CellWalk(WorkbookGuard guard, string part)
    {
        private int _row;
        private int _column = -1;
        private bool _isError, _isShared, _isText, _isInValue, _hasFormula, _hasValue;
        private string _value = "";

        public void Step(XmlReader xml)
        {
            if (xml.NodeType == XmlNodeType.Text && _isError)
                _value = xml.Value;
            // a program that calculates nothing leaves the element of the value without one
            if (xml.NodeType == XmlNodeType.Text)
                _hasValue |= _isInValue;
            if (xml.NodeType == XmlNodeType.EndElement && xml.LocalName == "v")
                _isInValue = false;
            if (xml.NodeType == XmlNodeType.Text && _isShared && Number(xml.Value) is var index)
                guard._highestSharedText = index < 0 ? int.MaxValue : Math.Max(guard._highestSharedText, index);
            if (xml.NodeType == XmlNodeType.EndElement && xml.LocalName == "c")
                Close();
            if (xml.NodeType != XmlNodeType.Element)
                return;
            switch (xml.LocalName)
            {
                case "col":
                    guard.LacksWidths |= xml.GetAttribute("width") is null;
                    break;
                case "row":
                    _row = xml.GetAttribute("r") is { } stated ? Number(stated) : _row + 1;
                    _column = -1;
                    if (_row is < 1 or > CellReference.MostRows)
                        throw new WorkbookTooLargeException($"a row numbered {FindingText.Quote(xml.GetAttribute("r"))}");
                    break;
                case "c":
                    _isError = xml.GetAttribute("t") == "e";
                    _isShared = xml.GetAttribute("t") == "s";
                    _isText = xml.GetAttribute("t") == "str";
                    _isInValue = _hasFormula = _hasValue = false;
                    _value = "";
                    Place(xml.GetAttribute("r"));
                    break;
                case "f":
                    _hasFormula = true;
                    break;
                case "v":
                    _isInValue = !xml.IsEmptyElement;
                    // the result may be a text of no letters
                    _hasValue = _isInValue && _isText;
                    break;
                case "is":
                    _hasValue = !xml.IsEmptyElement;
                    break;
            }
        }

        private void Place(string? reference)
        {
            if (reference is null)
                _column++;
            else if (!CellReference.TryParse(reference, out _column, out _))
                throw new WorkbookTooLargeException($"a cell named {FindingText.Quote(reference)}");
            int most = guard._limits.MaxColumns;
            if (_column >= most)
            {
                throw new WorkbookTooLargeException(
                    Invariant($"something in column {CellReference.Letters(_column)}, and a sheet may have {most} columns"));
            }
        }

        private void Close()
        {
            if (_isError)
                guard._failedCells.Add((part, _column, _row, new SheetCell(SheetCellKind.Error, _value.Length == 0 ? "#ERROR" : _value)));
            else if (_hasFormula && !_hasValue)
                guard._failedCells.Add((part, _column, _row, new SheetCell(SheetCellKind.Formula, "")));
            _isError = _isShared = false;
            if (guard._failedCells.Count > MostFailedCells)
            {
                throw new WorkbookTooLargeException(
                    Invariant($"more than {MostFailedCells} cells with errors or formulas without a result"));
            }
        }
    }
}

/// <summary>Why a workbook is not walked through to its end; never leaves the guard.</summary>
internal sealed class WorkbookTooLargeException(string why) : Exception(why);
