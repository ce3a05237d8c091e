namespace DecayAtlas.Contributions.Proposal;

internal sealed record NamedColumn(string Name, int Column, HeaderMeaning Meaning);

/// <summary>An unknown table, opened for a look: how it is written, its header and its rows.</summary>
/// <param name="FileLines">Lines of the section <c>file</c> of a mapping.</param>
internal sealed record TableSniff(IReadOnlyList<NamedColumn> Columns, IReadOnlyList<SheetRow> Rows, bool IsText, bool IsOfResults,
    IReadOnlyList<string> FileLines)
{
    private static readonly (char Sign, string Name)[] Separators = [(';', "semicolon"), ('\t', "tab"), (',', "comma")];

    public static TableSniff? Of(PackageFile file, string? sheetName, IntakeLimits limits, FindingList findings)
    {
        List<string> lines = [];
        bool isWorkbook = file.Path.EndsWith(".xlsx", StringComparison.OrdinalIgnoreCase);
        Sheet? sheet = isWorkbook ? FromWorkbook(file, sheetName, limits, lines, findings) : FromText(file, limits, lines, findings);
        if (sheet is null)
            return null;
        // A title above the header fills one cell; the header fills most.
        int widest = sheet.Rows.Take(20).Select(Filled).DefaultIfEmpty().Max();
        int at = sheet.Rows.Take(20).ToList().FindIndex(row => Filled(row) * 2 > widest);
        if (at < 0)
        {
            findings.Add(FindingCode.HeaderMissing, file.Path, "an empty table", "a header and rows",
                "look whether this is the right file");
            return null;
        }
        SheetRow header = sheet.Rows[at];
        if (Array.FindIndex(header.Cells, cell => cell.Text.Length > FieldSchema.LongestOfAll) is >= 0 and int wide)
        {
            findings.Add(CellCheck.NameTooLong(wide, header[wide].Text.Length) with { File = file.Path, Row = header.Row });
            return null;
        }
        lines.Add(Invariant($"header_row: {header.Row}"));
        (string Name, int Column)[] named = [.. header.Cells.Select((cell, column) => (cell.Text.Trim(), column))
            .Where(column => column.Item1.Length > 0)];
        bool isOfResults = HeaderWords.AreOfResults([.. named.Select(column => column.Name)]);
        NamedColumn[] columns =
            [.. named.Select(column => new NamedColumn(column.Name, column.Column, HeaderWords.Read(column.Name, isOfResults)))];
        return new TableSniff(columns, [.. sheet.Rows.Skip(at + 1)], !isWorkbook, isOfResults, lines);
    }

    private static int Filled(SheetRow row) => row.Cells.Count(cell => cell.Kind != SheetCellKind.Empty);

    private static Sheet? FromWorkbook(PackageFile file, string? sheetName, IntakeLimits limits, List<string> lines, FindingList findings)
    {
        if (Workbook.Open(file, limits, findings) is not { } workbook)
            return null;
        Sheet? chosen = sheetName is not null ? workbook.Find(sheetName.Trim()) : workbook.Filled is [Sheet only] ? only : null;
        if (chosen is not null)
        {
            lines.Add("sheet: " + MappingText.Quote(chosen.Name!));
            return chosen;
        }
        string found = sheetName is null ? Invariant($"{workbook.Filled.Count} sheets with something in them")
            : $"no sheet {FindingText.Quote(sheetName)}";
        findings.Add(FindingCode.SheetMissing, file.Path, found, $"one sheet to map, one of {workbook.QuotedNames}",
            "name it with --sheet");
        return null;
    }

    private static Sheet? FromText(PackageFile file, IntakeLimits limits, List<string> lines, FindingList findings)
    {
        FindingList silent = new();
        string? text = WideCsv.Text(file, null, limits, silent);
        if (text is null && WideCsv.Text(file, "windows-1252", limits, findings) is { } legacy)
        {
            text = legacy;
            lines.Add($"encoding: {MappingReader.Todo}  # the bytes are not UTF-8; windows-1252 is the commonest of the others: do the "
                + $"letters look right? {MappingText.Remark(SampleOfLetters(legacy))}");
        }
        if (text is null)
            return null;
        string first = text.Split('\n').FirstOrDefault(line => line.Trim().Length > 0) ?? "";
        (char sign, string name) = Separators.MaxBy(separator => first.Count(c => c == separator.Sign));
        lines.Add("separator: " + name);
        return WideCsv.Rows(text, file.Path, sign, limits, findings);
    }

    private static string SampleOfLetters(string text)
    {
        int at = text.AsSpan().IndexOfAnyExceptInRange('\0', '\u007F');
        return at < 0 ? "" : text.Substring(Math.Max(0, at - 10), Math.Min(text.Length - Math.Max(0, at - 10), 25));
    }
}
