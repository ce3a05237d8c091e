namespace DecayAtlas.Atlas.Records;

/// <summary>One bag with its lot, its site and what its weighings give.</summary>
/// <param name="Litter">What of the lot the equations need.</param>
public sealed record Bag(
    ContributionHeader Header, BagRow Row, LotRow Lot, LitterLot Litter, string SiteKey, Computed<RemainingFraction> Remaining)
{
    public RecordKey Key => new(Header.ContributionId, RecordKind.Bag, Row.BagId);

    /// <summary>Days from burial to retrieval (d); negative where the dates are the wrong way round.</summary>
    public int? ExposureDays => Row.RetrievedOn?.DayNumber - Row.BuriedOn.DayNumber;
}
