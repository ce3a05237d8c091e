namespace DecayAtlas.Contributions;

/// <summary>What one contribution may cost. Counted while reading, never taken from a file's own header.</summary>
/// <param name="MaxFileBytes">Largest single file, unpacked.</param>
/// <param name="MaxPackageBytes">All files together, unpacked; also the largest .zip.</param>
/// <param name="MaxFiles">Most files.</param>
/// <param name="MaxRows">Most rows in one table.</param>
public sealed record IntakeLimits(long MaxFileBytes, long MaxPackageBytes, int MaxFiles, int MaxRows)
{
    /// <summary>512 MiB a file, 1 GiB a contribution, 1000 files, 2 million rows a table.</summary>
    public static IntakeLimits Default { get; } = new(512L << 20, 1L << 30, 1000, 2_000_000);

    /// <summary>Most unpacked bytes per packed byte of a zip entry. Tables of weighings stay under 30.</summary>
    public int MaxCompressionRatio { get; init; } = 200;

    /// <summary>Largest workbook, unpacked, and largest wide table: both are held in memory.</summary>
    public long MaxSpreadsheetBytes { get; init; } = 128L << 20;

    /// <summary>Most columns of a table.</summary>
    public int MaxColumns { get; init; } = 512;

    /// <summary>Longest that reading may take, seconds: far above what any contribution takes; no verdict shall hang on the machine.</summary>
    public int MaxSeconds { get; init; } = 300;
}
