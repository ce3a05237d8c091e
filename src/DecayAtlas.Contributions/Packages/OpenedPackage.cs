namespace DecayAtlas.Contributions.Packages;

/// <summary>What was sent, listed once more for a look at it, after it was read and judged.</summary>
internal static class OpenedPackage
{
    public static Package Of(string path, string? mappingPath)
    {
        ReceivedFiles received = new();
        FindingList judged = new();
        path = LoneZip.In(path);
        if (Directory.Exists(path))
            return FolderListing.List(path, received, judged);
        if (path.EndsWith(".zip", StringComparison.OrdinalIgnoreCase))
            return ZipListing.List(path, received, judged);
        string mapping = mappingPath ?? SpreadsheetFiles.MappingPathOf(path);
        PackageFile table = Plain(path);
        return new Package(path, [table], null)
        {
            Spreadsheet = SpreadsheetFiles.IsTable(path) ? new SpreadsheetFiles(table, File.Exists(mapping) ? Plain(mapping) : null) : null,
        };

        PackageFile Plain(string file) => received.Add(Path.GetFileName(file), new FileInfo(file));
    }
}
