namespace DecayAtlas.Contributions;

/// <summary>What one contribution may cost. Counted while reading, never taken from a file's own header.</summary>
public sealed record IntakeLimits
{
    public static IntakeLimits Default { get; } = new();

    [Setting("file_bytes", "a whole number of bytes", "Largest single file, unpacked", Least = 1)]
    public long MaxFileBytes { get; init; } = 512L << 20;

    [Setting("package_bytes", "a whole number of bytes", "All files together, unpacked; also the largest .zip", Least = 1)]
    public long MaxPackageBytes { get; init; } = 1L << 30;

    [Setting("files", "a whole number of files", "Most files", Least = 1)]
    public int MaxFiles { get; init; } = 1000;

    [Setting("rows", "a whole number of rows a table", "Most rows in one table", Least = 1)]
    public int MaxRows { get; init; } = 2_000_000;

    [Setting("columns", "a whole number of columns a table, 20 or more", "Most columns of a table", Least = 20)]
    public int MaxColumns { get; init; } = 512;

    /// <summary>Both are held in memory.</summary>
    [Setting("spreadsheet_bytes", "a whole number of bytes of a workbook, unpacked", "Largest workbook, unpacked, and largest wide table",
        Least = 1)]
    public long MaxSpreadsheetBytes { get; init; } = 128L << 20;

    /// <summary>Tables of weighings stay under 30.</summary>
    [Setting("compression_ratio", "unpacked bytes a packed byte, 2 or more", "Most unpacked bytes a packed byte of a zip entry", Least = 2)]
    public int MaxCompressionRatio { get; init; } = 200;

    /// <summary>Far above what any contribution takes; no verdict shall hang on the machine.</summary>
    [Setting("seconds", "a whole number of seconds that reading a contribution may take, 10 to 86400", "Longest that reading may take",
        Least = 10, Most = 86_400)]
    public int MaxSeconds { get; init; } = 300;
}
