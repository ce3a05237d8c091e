namespace DecayAtlas.Atlas.Records;

/// <summary>Means that a contribution states of the burials of one site under one treatment, and what they give.</summary>
/// <param name="FastLot">The lot named; missing where none is. So of the slow litter.</param>
/// <param name="Index">Mean ln k, k and S, or why there are none.</param>
public sealed record SentResult(
    ContributionHeader Header, ResultRow Row, LotRow? FastLot, LotRow? SlowLot, string SiteKey, MeanIndex Index)
{
    public RecordKey Key => new(Header.ContributionId, RecordKind.Result, Row.ResultId);

    /// <summary>The lots whose chemistry its numbers rest on: of a report, where it is put on theirs.</summary>
    public IEnumerable<LotRow> LotsUsed => Row.Evidence == EvidenceKind.Summarised || Index.IsHarmonised
        || (FastLot is not null && SlowLot is not null && Row is { FastHydrolysableUsed: not null, SlowHydrolysableUsed: not null })
        ? new[] { FastLot, SlowLot }.OfType<LotRow>() : [];

    /// <summary>The lots that its errors are shared with; what a group says in one contribution is one batch.</summary>
    public SharedKeys Shared => new(Row.FastLotId ?? "", Row.SlowLotId ?? "", Header.ContributionId, Header.ContributionId);

    public static SentResult Of(
        ContributionHeader header, ResultRow row, LotRow? fastLot, LotRow? slowLot, MeasurementAssumptions assumptions) => new(
        header, row, fastLot, slowLot, Site.KeyOf(header.ContributorId, row.SiteId),
        row.Index(fastLot, slowLot, assumptions));
}
