using DecayAtlas.Atlas.Records;
using static DecayAtlas.Atlas.Tables.Column;

namespace DecayAtlas.Atlas.Tables;

/// <summary>Every table of a release. This is where a released column is added; the data dictionary is made from it.</summary>
public static partial class AtlasTables
{
    /// <summary>All tables, in the order a reader meets them.</summary>
    public static IReadOnlyList<Table> All => [Contributions, Sites, Lots, Bags, Burials, SiteCampaigns, Plots, Curves, Covariates, BurialCovariates, CampaignCovariates, Flags, Decisions, Samples, Variance, Comparisons, Agreement];

    public static Table<ContributionRow> Contributions { get; } = new(
        "contributions",
        "One row a contribution in this release, in its highest accepted revision.",
        ["contribution_id"],
        [
            Text<ContributionRow>("contribution_id", "Id of the contribution: the name of its data package.", x => x.Header.ContributionId),
            WholeNumber<ContributionRow>("revision", null, "Revision of the contribution, from 1.", x => x.Header.Revision),
            Text<ContributionRow>("contributor_id", "Id of the group that sent it.", x => x.Header.ContributorId),
            Text<ContributionRow>("campaign", "Campaign it belongs to.", x => x.Header.Campaign),
            Text<ContributionRow>("protocol", "Protocol that was followed.", x => x.Header.Protocol),
            Date<ContributionRow>("created", "Day on which the contribution says it was made.", x => x.Header.Created),
            Text<ContributionRow>("licence", "Licence under which it was contributed.", x => x.Header.Licence),
            Text<ContributionRow>("content_hash", "SHA-256 that names what was received.", x => x.Header.ContentHash),
            WholeNumber<ContributionRow>("sites", null, "Number of sites.", x => x.Sites),
            WholeNumber<ContributionRow>("lots", null, "Number of lots.", x => x.Lots),
            WholeNumber<ContributionRow>("bags", null, "Number of bags.", x => x.Bags),
            WholeNumber<ContributionRow>("burials", null, "Number of burials.", x => x.Burials),
            WholeNumber<ContributionRow>("samples", null, "Number of sequence samples.", x => x.Samples),
        ]);

    public static Table<ReleasedLot> Lots { get; } = new(
        "lots",
        "One row a lot and contribution: the chemistry and tare that the contribution states and that its bags were computed with.",
        ["contribution_id", "lot_id"],
        [
            Text<ReleasedLot>("contribution_id", "Contribution that states the lot.", x => x.ContributionId),
            Text<ReleasedLot>("lot_id", "Id of the production lot.", x => x.Row.LotId),
            Text<ReleasedLot>("role", "fast or slow.", x => AtlasCode.Of(x.Row.Role)),
            Number<ReleasedLot>("hydrolysable_fraction", "1", "Hydrolysable share of the litter, H.", x => x.Row.HydrolysableFraction),
            Number<ReleasedLot>("hydrolysable_fraction_sd", "1", "Standard uncertainty of H.", x => x.Row.HydrolysableFractionSd),
            Number<ReleasedLot>("ash_fraction", "1", "Ash share of the litter as supplied.", x => x.Row.AshFraction),
            Number<ReleasedLot>("ash_fraction_sd", "1", "Standard uncertainty of the ash share.", x => x.Row.AshFractionSd),
            Number<ReleasedLot>("litter_mass_nominal_g", "g", "Litter mass a bag is made with.", x => x.Row.LitterMassNominalGrams),
            Number<ReleasedLot>("litter_mass_tolerance_g", "g", "How far a bag may be off that mass.", x => x.Row.LitterMassToleranceGrams),
            Number<ReleasedLot>("tare_g", "g", "Mass of bag, string and label.", x => x.Row.TareGrams),
            Number<ReleasedLot>("tare_sd_g", "g", "Standard deviation of the tare from bag to bag.", x => x.Row.TareSdGrams),
            Number<ReleasedLot>("mesh_mm", "mm", "Mesh width of the bag.", x => x.Row.MeshMillimetres),
            Text<ReleasedLot>("chemistry_source", "Where the chemistry comes from.", x => x.Row.ChemistrySource),
        ]);

    public static Table<Flag> Flags { get; } = new(
        "flags",
        "One row a flag: a finding about one record, with the numbers that raised it. The codes are explained in the flag pages.",
        ["contribution_id", "record_kind", "record_id", "code", "explanation"],
        [
            Text<Flag>("contribution_id", "Contribution of the record.", x => x.Record.ContributionId),
            Text<Flag>("record_kind", "contribution, site, lot, bag or burial.", x => AtlasCode.Of(x.Record.Kind)),
            Text<Flag>("record_id", "Id of the record in its contribution.", x => x.Record.RecordId),
            Text<Flag>("code", "What was found.", x => x.Code),
            Text<Flag>("severity", "note, suspect or reject.", x => AtlasCode.Of(x.Severity)),
            Number<Flag>("measured", "see unit", "The number that raised the flag.", x => x.Measured),
            Number<Flag>("limit", "see unit", "The limit it passed.", x => x.Limit),
            Text<Flag>("unit", "Unit of measured and limit.", x => x.Unit),
            Text<Flag>("explanation", "The finding as a sentence.", x => x.Explanation),
            Text<Flag>("overruled_by", "Who decided that the flag does not bear on the use; missing where nobody did.", x => x.Overruling?.By),
            Text<Flag>("overruled_because", "Why.", x => x.Overruling?.Because),
        ]);

    public static Table<Decision> Decisions { get; } = new(
        "decisions",
        "One row a decision: a contribution withdrawn, or a suspect flag overruled, with who, when and why.",
        ["contribution_id", "decision", "record_kind", "record_id", "code", "decided_on"],
        [
            Text<Decision>("contribution_id", "The contribution it is about.", x => x.ContributionId),
            Text<Decision>("decision", "withdraw or overrule.", x => x.IsWithdrawal ? "withdraw" : "overrule"),
            Text<Decision>("record_kind", "site, bag or burial, where a flag is overruled.", x => x.Overruled is { } record ? AtlasCode.Of(record.Kind) : null),
            Text<Decision>("record_id", "Id of the record in its contribution.", x => x.Overruled?.RecordId),
            Text<Decision>("code", "The flag that is overruled.", x => x.FlagCode),
            WholeNumber<Decision>("revision", null, "Revision of the contribution that an overruling was decided for.", x => x.IsWithdrawal ? null : x.Revision),
            Text<Decision>("decided_by", "Who decided: a role or an id.", x => x.By),
            Date<Decision>("decided_on", "The day of the decision.", x => x.On),
            Text<Decision>("because", "The reason.", x => x.Because),
        ]);

    public static Table<ReleasedSample> Samples { get; } = new(
        "samples",
        "One row a sequence sample taken from a bag.",
        ["contribution_id", "bag_id", "accession"],
        [
            Text<ReleasedSample>("contribution_id", "Contribution of the bag.", x => x.ContributionId),
            Text<ReleasedSample>("bag_id", "The bag.", x => x.Row.BagId),
            Text<ReleasedSample>("accession", "Accession in a public sequence archive.", x => x.Row.Accession),
            Text<ReleasedSample>("marker", "Marker gene.", x => x.Row.Marker),
            Text<ReleasedSample>("archive", "The archive.", x => x.Row.Archive),
        ]);

    private static PartitionKey<T> YearKey<T>(Func<T, DateOnly?> retrieved) =>
        new("retrieved_year", "Year of retrieval.", x => retrieved(x)?.Year.ToString(System.Globalization.CultureInfo.InvariantCulture));

    private static PartitionKey<T> BlockKey<T>(Func<T, PublishedPlace> place) =>
        new("block", "10 degree block of the published coordinates, named by its south-west corner.", x => place(x).Block);
}
