using System.Globalization;
using System.Text;
using ExcelDataReader;
using ExcelDataReader.Exceptions;

namespace DecayAtlas.Contributions.Workbooks;

/// <summary>A workbook (.xlsx) with the typed cells of all its sheets. Formulas count by their stored results.</summary>
internal sealed record Workbook(IReadOnlyList<Sheet> Sheets, bool IsDate1904)
{
    // Most cells that are looked at, with those of the blank rows between the others.
    private const long MostVisited = 100_000_000;

    // Of a sheet in a workbook of the old format (MS-XLS, 2.4.90); the library goes through as many as the file says in one call.
    private const int MostRowsOfOld = 65_536;

    private static ReadOnlySpan<byte> OldFormat => [0xD0, 0xCF, 0x11, 0xE0];

    public static Workbook? Open(PackageFile file, IntakeLimits limits, FindingList findings)
    {
        if (file.Bytes > limits.MaxSpreadsheetBytes)
        {
            findings.Add(FindingCode.WorkbookTooLarge, file.Path, Invariant($"{file.Bytes} bytes"),
                Invariant($"at most {limits.MaxSpreadsheetBytes} bytes"), "send a data package, or split it into several contributions");
            return null;
        }
        using MemoryStream bytes = file.Load();
        if (bytes.GetBuffer().AsSpan(0, (int)bytes.Length).StartsWith(OldFormat))
        {
            findings.Add(FindingCode.WorkbookKind, file.Path, "a workbook of the older format (.xls) or with a password",
                "a workbook saved as .xlsx without a password", "save it again as .xlsx, without a password");
            return null;
        }
        if (WorkbookGuard.Pass(bytes, file.Path, limits, findings) is not { } guard)
            return null;
        return Guarded(guard.LacksWidths ? ColumnWidths.Filled(bytes) : bytes, guard, limits, file.Path, findings);
    }

    /// <summary>A workbook of the format before .xlsx; its limits are those of the file itself, of which nothing is packed.</summary>
    public static Workbook? OpenOld(MemoryStream bytes, string file, IntakeLimits limits, FindingList findings) =>
        Guarded(bytes, null, limits, file, findings);

    private static Workbook? Guarded(MemoryStream bytes, WorkbookGuard? guard, IntakeLimits limits, string file, FindingList findings)
    {
        bytes.Position = 0;
        try
        {
            WatchedStream watched = new(bytes, read =>
            {
                findings.Time.Ask();
                return read;
            });
            return Read(watched, guard, limits, file, findings);
        }
        catch (InvalidPasswordException)
        {
            findings.Add(FindingCode.WorkbookKind, file, "a workbook with a password", "a workbook without a password",
                "save it again without a password");
            return null;
        }
        // What the library is known to throw at parts that are well-formed XML but not a workbook; a finding, whichever it is.
        catch (Exception fault)
            when (fault is ExcelReaderException or FormatException or OverflowException or ArgumentException or InvalidCastException
            or NullReferenceException or KeyNotFoundException or InvalidOperationException or IndexOutOfRangeException
            or System.Xml.XmlException || ZipListing.IsBroken(fault))
        {
            findings.Add(Broken(file));
            return null;
        }
    }

    public static Finding Broken(string file) => new(FindingCode.WorkbookBroken, file, "parts that do not make a workbook",
        "a workbook as a spreadsheet program saves it", "open it in a spreadsheet program and save it again as .xlsx");

    /// <summary>The sheets with something in them.</summary>
    public IReadOnlyList<Sheet> Filled => [.. Sheets.Where(sheet => sheet.Rows.Count > 0)];

    public string QuotedNames => string.Join(", ", Sheets.Select(sheet => FindingText.Quote(sheet.Name)));

    public Sheet? Find(string name) =>
        Sheets.FirstOrDefault(sheet => string.Equals(sheet.Name!.Trim(), name, StringComparison.OrdinalIgnoreCase));

    private static Workbook? Read(Stream bytes, WorkbookGuard? guard, IntakeLimits limits, string file, FindingList findings)
    {
        // The library asks for the code page of older formats, even where it does not need it.
        Encoding.RegisterProvider(Windows1252.Provider.Instance);
        ExcelReaderConfiguration configuration = new() { LeaveOpen = true };
        using IExcelDataReader reader = guard is null ? ExcelReaderFactory.CreateBinaryReader(bytes, configuration)
            : ExcelReaderFactory.CreateOpenXmlReader(bytes, configuration);
        List<Sheet> sheets = [];
        long visited = 0, held = 0;
        do
        {
            List<SheetRow> rows = [];
            string name = reader.Name ?? throw new InvalidDataException("A sheet has no name.");
            if (HalfLetter.IsIn(name))
                findings.Add(JsonLetters.Broken("the name of a sheet") with { File = file });
            int number = 0;
            int widthOfFailed = guard?.WidthOfFailed(name) ?? 0;
            int width = Math.Max(reader.FieldCount, widthOfFailed);
            if (guard is null && width > limits.MaxColumns)
                throw new InvalidDataException("A sheet is wider than a table may be.");
            if (guard is null && (reader.RowCount is < 0 or > MostRowsOfOld))
                throw new InvalidDataException("A sheet is longer than one of its format can be.");
            while (reader.Read())
            {
                findings.Time.Ask();
                number++;
                visited += Math.Max(1, width);
                SheetCell[] cells = new SheetCell[width];
                int filled = 0;
                for (int column = 0; column < width; column++)
                {
                    cells[column] = column < widthOfFailed && guard!.FailedCells.TryGetValue((name, column, number), out SheetCell failed)
                        ? failed
                        : column < reader.FieldCount ? CellOf(reader.GetValue(column)) : SheetCell.Empty;
                    if (HalfLetter.IsIn(cells[column].Text))   // a workbook writes one as _xD800_
                    {
                        Finding broken = JsonLetters.Broken("a cell") with { Sheet = name, Row = number };
                        findings.Add(broken with { File = file, Cell = CellReference.Of(column, number) });
                        cells[column] = SheetCell.OfText(HalfLetter.Replaced(cells[column].Text));
                    }
                    if (cells[column].Kind != SheetCellKind.Empty)
                        filled = column + 1;
                }
                if (filled > 0)
                    rows.Add(new SheetRow(number, cells[..filled]));
                held += filled;
                if (held > Sheet.MostCells || visited > MostVisited)
                {
                    findings.Add(FindingCode.WorkbookTooLarge, file, "more cells than any table of bags has",
                        "a workbook with nothing but the tables in it",
                        "take out what does not belong to the tables, and the empty rows between them");
                    return null;
                }
                // The header is one row more; the tables are counted again, each by its own check.
                if (rows.Count - 1 > limits.MaxRows)
                {
                    findings.Add(FindingCode.TooManyRows, file, Invariant($"more than {limits.MaxRows} rows in a sheet"),
                        Invariant($"at most {limits.MaxRows} rows"), "split the contribution");
                    return null;
                }
            }
            sheets.Add(new Sheet(file, HalfLetter.Replaced(name), rows));
        }
        while (reader.NextResult());
        return new Workbook(sheets, guard?.IsDate1904 ?? false);
    }

    private static SheetCell CellOf(object? value) => value switch
    {
        null or DBNull or "" => SheetCell.Empty,
        string text => SheetCell.OfText(text),
        // The shortest text that gives the same number back: what the file stores as 2.0600000000000001 is 2.06.
        double number => new SheetCell(SheetCellKind.Number, number.ToString("R", CultureInfo.InvariantCulture)),
        int number => new SheetCell(SheetCellKind.Number, number.ToString(CultureInfo.InvariantCulture)),
        bool yes => new SheetCell(SheetCellKind.YesNo, yes ? "yes" : "no"),
        DateTime date => new SheetCell(SheetCellKind.Date, date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)),
        TimeSpan time => new SheetCell(SheetCellKind.Time, time.ToString("c", CultureInfo.InvariantCulture)),
        _ => SheetCell.OfText(Convert.ToString(value, CultureInfo.InvariantCulture) ?? ""),
    };
}
