namespace DecayAtlas.Contributions.Reports;

/// <summary>The tables of a contribution as they were sent, cell by cell, as far as they can be read.</summary>
internal static class SentSheets
{
    public static IReadOnlyList<Sheet> Of(string path, string? mappingPath, IntakeLimits limits)
    {
        FindingList judged = new();
        using Package package = OpenedPackage.Of(path, mappingPath);
        PackageFile[] files = package.Spreadsheet is { } spreadsheet ? [spreadsheet.Table]
            : [.. package.Files.Where(file => file.Path.EndsWith(".csv", StringComparison.OrdinalIgnoreCase))];
        return [.. files.SelectMany(file => SheetFile.Open(file, null, limits, judged)?.Sheets ?? []).Select(seen => seen.Sheet)];
    }
}
