namespace DecayAtlas.Contributions.Sheets;

/// <summary>Opens a file by what stands in it, whatever its name ends in: spreadsheet programs save one kind under the name of
/// another.</summary>
internal static class SheetFile
{
    /// <param name="separator">Of a file of text, where a person said it.</param>
    /// <returns>Null when it cannot be read, and then the findings say why.</returns>
    public static SeenFile? Open(PackageFile file, char? separator, IntakeLimits limits, FindingList findings)
    {
        if (file.Bytes > limits.MaxSpreadsheetBytes)
        {
            findings.Add(FindingCode.WorkbookTooLarge, file.Path, Invariant($"{file.Bytes} bytes"),
                Invariant($"at most {limits.MaxSpreadsheetBytes} bytes"), "send a data package, or split it into several contributions");
            return null;
        }
        using MemoryStream held = file.Load();
        ReadOnlySpan<byte> bytes = held.GetBuffer().AsSpan(0, (int)held.Length);
        if (bytes.StartsWith<byte>([0xD0, 0xCF, 0x11, 0xE0]))
            return OldWorkbook.Read(file.Path, held, limits, findings);
        if (bytes.StartsWith("PK"u8))
            return OdsFile.Is(held) ? OdsFile.Read(file.Path, held, limits, findings) : Modern(file, held, limits, findings);
        return HtmlTables.Is(bytes) ? HtmlTables.Read(file.Path, bytes, limits, findings)
            : TextTable.Read(file.Path, bytes, separator, limits, findings);
    }

    private static SeenFile? Modern(PackageFile file, MemoryStream held, IntakeLimits limits, FindingList findings)
    {
        if (Workbook.Open(file, limits, findings) is not { } workbook)
            return null;
        held.Position = 0;
        Dictionary<string, SeenSheet> looks = XlsxLooks.Read(held, findings.Time);
        return new SeenFile(file.Path, [.. workbook.Sheets.Select(sheet =>
            looks.TryGetValue(sheet.Name!, out SeenSheet? look) ? look with { Sheet = sheet } : new SeenSheet(sheet))],
            IsText: false, workbook.IsDate1904)
        {
            Pictures = XlsxLooks.Pictures(held),
        };
    }
}
