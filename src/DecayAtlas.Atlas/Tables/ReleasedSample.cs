namespace DecayAtlas.Atlas.Tables;

[Table("samples", "One row a sequence sample taken from a bag.")]
public sealed record ReleasedSample
{
    [Column("contribution_id", "Contribution of the bag.", IsKey = true)]
    public required string ContributionId { get; init; }

    [Column("bag_id", "The bag.", IsKey = true)]
    public required string BagId { get; init; }

    [Column("accession", "Accession in a public sequence archive.", IsKey = true)]
    public required string Accession { get; init; }

    [Column("marker", "Marker gene.")]
    public string? Marker { get; init; }

    [Column("archive", "The archive.")]
    public string? Archive { get; init; }

    public static ReleasedSample Of(string contributionId, SampleRow row) => new()
    {
        ContributionId = contributionId,
        BagId = row.BagId,
        Accession = row.Accession,
        Marker = row.Marker,
        Archive = row.Archive,
    };
}
