namespace DecayAtlas.Contributions.Packages;

/// <param name="Path">Relative to datapackage.json, with '/'.</param>
/// <param name="Open">Opens the bytes; may be called more than once.</param>
/// <param name="Bytes">Length on disk, or the length that a zip claims, which is believed only after reading.</param>
internal sealed record PackageFile(string Path, Func<Stream> Open, long Bytes, PackedEntry? Packed)
{
    /// <summary>All of it in memory.</summary>
    public MemoryStream Load()
    {
        MemoryStream bytes = new();
        using Stream source = Open();
        source.CopyTo(bytes);
        bytes.Position = 0;
        return bytes;
    }
}

internal sealed record PackedEntry(long PackedBytes, uint Crc32);

/// <summary>A received folder or zip, listed but not yet read.</summary>
internal sealed class Package(string path, IReadOnlyList<PackageFile> files, IDisposable? archive) : IDisposable
{
    // Left behind by file managers, on no purpose of the contributor; kept, but not part of the content.
    private static readonly string[] Leftovers = [".DS_Store", "Thumbs.db", "desktop.ini"];

    public string Name { get; } = System.IO.Path.GetFileName(System.IO.Path.TrimEndingDirectorySeparator(path));

    public IReadOnlyList<PackageFile> Files { get; } = files;

    /// <summary>The workbook or wide table that the package holds in place of a data package, or null.</summary>
    public SpreadsheetFiles? Spreadsheet { get; init; } = SpreadsheetFiles.In(files);

    /// <summary>Tables of which nobody says which is meant.</summary>
    public IReadOnlyList<string> SeveralTables { get; } = SpreadsheetFiles.Several(files);

    public PackageFile? Find(string relativePath) =>
        Files.FirstOrDefault(file => string.Equals(file.Path, relativePath, StringComparison.Ordinal));

    public void Dispose() => archive?.Dispose();

    public static bool IsLeftover(string relativePath) =>
        relativePath.StartsWith("__MACOSX/", StringComparison.Ordinal)
        || Leftovers.Contains(relativePath[(relativePath.LastIndexOf('/') + 1)..], StringComparer.OrdinalIgnoreCase);
}
