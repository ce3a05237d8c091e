namespace DecayAtlas.Atlas.Records;

/// <summary>One bag with its lot, its site and what its weighings give.</summary>
/// <param name="Remaining">On the best basis that this bag allows; a burial or a series may need the other.</param>
/// <param name="RemainingDry">On a dry basis, ash and all.</param>
public sealed record Bag(
    ContributionHeader Header, BagRow Row, LotRow Lot, string SiteKey, Computed<RemainingFraction> Remaining,
    Computed<RemainingFraction> RemainingDry)
{
    /// <summary>What was dried and weighed together: all of a contributor's campaign, unless the bags name their batch.</summary>
    public string BatchKey => Row.BatchId is { } batch
        ? $"{Header.ContributorId}/{Header.Campaign}/{batch}" : $"{Header.ContributorId}/{Header.Campaign}";

    public RecordKey Key => new(Header.ContributionId, RecordKind.Bag, Row.BagId);

    /// <summary>Days from burial to retrieval (d); negative where the dates are the wrong way round.</summary>
    public int? ExposureDays => Row.RetrievedOn?.DayNumber - Row.BuriedOn.DayNumber;
}
