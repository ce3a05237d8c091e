namespace DecayAtlas.Atlas.Records;

/// <summary>One bag with its lot, its site and what its weighings give.</summary>
public sealed record Bag(ContributionHeader Header, WeighedBag Weighed, string SiteKey)
{
    public BagRow Row => Weighed.Row;

    public LotRow Lot => Weighed.Lot;

    /// <summary>On the best basis that this bag allows; a burial or a series may need the other.</summary>
    public Computed<RemainingFraction> Remaining => Weighed.Remaining;

    /// <summary>On a dry basis, ash and all.</summary>
    public Computed<RemainingFraction> RemainingDry => Weighed.RemainingDry;

    /// <summary>What was dried and weighed together: all of a contributor's campaign, unless the bags name their batch.</summary>
    public string BatchKey => Row.BatchId is { } batch
        ? $"{Header.ContributorId}/{Header.Campaign}/{batch}" : $"{Header.ContributorId}/{Header.Campaign}";

    public RecordKey Key => new(Header.ContributionId, RecordKind.Bag, Row.BagId);

    /// <summary>Days from burial to retrieval (d); negative where the dates are the wrong way round.</summary>
    public int? ExposureDays => Row.RetrievedOn?.DayNumber - Row.BuriedOn.DayNumber;
}
