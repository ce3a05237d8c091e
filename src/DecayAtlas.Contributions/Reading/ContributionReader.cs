namespace DecayAtlas.Contributions.Reading;

/// <summary>
/// Reads a contribution and checks all of it: a data package (folder or .zip), a workbook with the tables as sheets, or one wide
/// table with a mapping. Whatever is wrong inside becomes a finding.
/// </summary>
public static class ContributionReader
{
    /// <param name="path">A folder, a .zip, an .xlsx, or a .csv, .tsv or .txt with its mapping beside it.</param>
    /// <param name="mappingPath">The mapping of a wide table; null for the one beside it (results.csv: results.mapping.yaml).</param>
    /// <exception cref="ContributionException">A file went away while it was read, or the mapping that was named is not there.</exception>
    public static ReadResult Read(string path, IntakeLimits limits, string? mappingPath = null, TimeProvider? clock = null)
    {
        if (mappingPath is not null && !File.Exists(mappingPath))
        {
            throw new ContributionException($"There is no mapping at {mappingPath}; correct the path, or let decayatlas map-columns "
                + "write one.");
        }

        using PackageReading reading = PackageReading.Begin(LoneZip.In(path), limits, mappingPath, clock: clock);
        return reading.Complete();
    }
}
