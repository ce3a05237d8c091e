namespace DecayAtlas.Atlas.Records;

/// <summary>One bag with its lot, its site and what its weighings give.</summary>
/// <param name="Header">The contribution that brought it.</param>
/// <param name="Row">What was sent.</param>
/// <param name="Lot">The lot as the same contribution describes it.</param>
/// <param name="Litter">What of the lot the equations need.</param>
/// <param name="SiteKey">The site it lay at.</param>
/// <param name="Remaining">Remaining fraction, or why there is none.</param>
public sealed record Bag(
    ContributionHeader Header, BagRow Row, LotRow Lot, LitterLot Litter, string SiteKey, Computed<RemainingFraction> Remaining)
{
    public RecordKey Key => new(Header.ContributionId, RecordKind.Bag, Row.BagId);
}
