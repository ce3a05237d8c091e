namespace DecayAtlas.Atlas.Tables;

[Table("contributions", "One row a contribution in this release, in its highest accepted revision.")]
public sealed record ReleasedContribution
{
    [Column("contribution_id", "Id of the contribution: the name of its data package.", IsKey = true)]
    public required string ContributionId { get; init; }

    [Column("revision", "Revision of the contribution, from 1.")]
    public required int Revision { get; init; }

    [Column("contributor_id", "Id of the group that sent it.")]
    public required string ContributorId { get; init; }

    [Column("campaign", "Campaign it belongs to.")]
    public required string Campaign { get; init; }

    [Column("protocol", "Protocol that was followed.")]
    public required string Protocol { get; init; }

    [Column("created", "Day on which the contribution says it was made.")]
    public DateOnly? Created { get; init; }

    [Column("licence", "Licence under which it was contributed.")]
    public required string Licence { get; init; }

    [Column("content_hash", "SHA-256 that names what was received.")]
    public required string ContentHash { get; init; }

    [Column("sites", "Number of sites.")]
    public required int Sites { get; init; }

    [Column("lots", "Number of lots.")]
    public required int Lots { get; init; }

    [Column("bags", "Number of bags.")]
    public required int Bags { get; init; }

    [Column("burials", "Number of burials.")]
    public required int Burials { get; init; }

    [Column("samples", "Number of samples studied for microbes.")]
    public required int Samples { get; init; }

    public static ReleasedContribution Of(ContributionHeader header, int sites, int lots, int bags, int burials, int samples) => new()
    {
        ContributionId = header.ContributionId,
        Revision = header.Revision,
        ContributorId = header.ContributorId,
        Campaign = header.Campaign,
        Protocol = header.Protocol,
        Created = header.Created,
        Licence = header.Licence,
        ContentHash = header.ContentHash,
        Sites = sites,
        Lots = lots,
        Bags = bags,
        Burials = burials,
        Samples = samples,
    };
}
