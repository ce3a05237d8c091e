namespace DecayAtlas.Contributions.Reading;

/// <summary>How a contribution was sent.</summary>
public enum ContributionFormat
{
    /// <summary>datapackage.json and CSV files.</summary>
    DataPackage,

    /// <summary>One workbook with a sheet a table.</summary>
    Workbook,

    /// <summary>One wide table with a mapping.</summary>
    WideTable,
}

/// <summary>The rows of the four tables.</summary>
public sealed record ContributionTables(
    IReadOnlyList<SiteRow> Sites, IReadOnlyList<LotRow> Lots, IReadOnlyList<BagRow> Bags, IReadOnlyList<SampleRow> Samples);

/// <summary>A contribution that was read.</summary>
/// <param name="Contribution">Null when there is any finding.</param>
/// <param name="Findings">At most <see cref="FindingList.Shown"/>, then one that says how many more there are.</param>
/// <param name="ContentHash">See <see cref="Contributions.ContentHash"/>.</param>
public sealed record ReadResult(Contribution? Contribution, IReadOnlyList<Finding> Findings, string ContentHash)
{
    /// <summary>Null when it was not even clear what was sent.</summary>
    public ContributionFormat? Format { get; init; }

    /// <summary>What looks like a slip and does not keep the contribution out.</summary>
    public IReadOnlyList<Finding> Warnings { get; init; } = [];

    /// <summary>The rows without findings, for a summary; null when no table could be read. Not for the atlas: rows are missing.</summary>
    public ContributionTables? SoundRows { get; init; }
}
