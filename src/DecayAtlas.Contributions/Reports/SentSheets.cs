namespace DecayAtlas.Contributions.Reports;

/// <summary>The tables of a contribution as they were sent, cell by cell, as far as they can be read.</summary>
internal static class SentSheets
{
    private static readonly char[] Separators = [',', ';', '\t'];

    public static IReadOnlyList<Sheet> Of(string path, string? mappingPath, IntakeLimits limits)
    {
        FindingList judged = new();
        using Package package = OpenedPackage.Of(path, mappingPath);
        if (package.Spreadsheet is not { } files)
        {
            return [.. package.Files.Where(file => file.Path.EndsWith(".csv", StringComparison.OrdinalIgnoreCase))
                .Select(file => OfText(file, null, limits, judged)).OfType<Sheet>()];
        }
        if (files.IsWorkbook)
            return Workbook.Open(files.Table, limits, judged)?.Sheets ?? [];
        WideForm? form = files.Mapping is { } mapping ? MappingReader.Read(mapping, judged)?.Form : null;
        return !files.IsOtherKind && OfText(files.Table, form, limits, judged) is { } sheet ? [sheet] : [];
    }

    private static Sheet? OfText(PackageFile file, WideForm? form, IntakeLimits limits, FindingList judged)
    {
        if ((WideCsv.Text(file, form?.Encoding, limits, judged) ?? WideCsv.Text(file, "windows-1252", limits, judged)) is not { } text)
            return null;
        ReadOnlySpan<char> first = text.AsSpan();
        int end = first.IndexOfAny('\n', '\r');
        string head = first[..(end < 0 ? first.Length : end)].ToString();
        return WideCsv.Rows(text, file.Path, form?.Separator ?? Separators.MaxBy(sign => head.Count(c => c == sign)), limits, judged);
    }
}
