namespace DecayAtlas.Contributions.Sheets;

/// <summary>Reads a workbook of the format before .xlsx (BIFF in a compound file): values by the library, looks by the records
/// themselves.</summary>
internal static class OldWorkbook
{
    public static SeenFile? Read(string path, MemoryStream held, IntakeLimits limits, FindingList findings)
    {
        if (!CompoundFile.HasKnownSectors(held.GetBuffer().AsSpan(0, (int)held.Length)))
        {
            findings.Add(Workbook.Broken(path));
            return null;
        }
        if (Workbook.OpenOld(held, path, limits, findings) is not { } workbook)
            return null;
        Dictionary<string, SeenSheet> looks = OldLooks.Read(held.GetBuffer().AsMemory(0, (int)held.Length), findings.Time);
        return new SeenFile(path, [.. workbook.Sheets.Select(sheet =>
            looks.TryGetValue(sheet.Name!, out SeenSheet? look) ? look with { Sheet = sheet } : new SeenSheet(sheet))],
            IsText: false, workbook.IsDate1904);
    }
}
