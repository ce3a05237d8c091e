namespace DecayAtlas.Atlas.Records;

/// <summary>One fast and one slow bag that lay together, and what they give.</summary>
/// <param name="Fast">The bag of the fast litter, where there is exactly one; so of the slow.</param>
/// <param name="Bags">Every bag that names the burial, in the order sent.</param>
/// <param name="Weighed">What they give, on one basis.</param>
public sealed record Burial(
    ContributionHeader Header,
    string BurialId,
    string SiteKey,
    Bag? Fast,
    Bag? Slow,
    IReadOnlyList<Bag> Bags,
    WeighedBurial Weighed)
{
    /// <summary>S (1), or why there is none.</summary>
    public Computed<Estimate> StabilisationFactor => Weighed.StabilisationFactor;

    /// <summary>k (d⁻¹) with its covariance with S, or why there is none.</summary>
    public Computed<RateAndStabilisation> Rate => Weighed.Rate;

    /// <summary>k (d⁻¹), or why there is none.</summary>
    public Computed<Estimate> RatePerDay { get; } = Weighed.Rate.Value is { } both ? both.RatePerDay : Weighed.Rate.Reason!.Value;

    /// <summary>The lots and batches that its errors are shared with.</summary>
    public SharedKeys Shared => new(
        Fast?.Row.LotId ?? "", Slow?.Row.LotId ?? "", Fast?.BatchKey ?? "", Slow?.BatchKey ?? "");

    /// <summary>Whether there is a k above 0, and so an ln k.</summary>
    public bool HasPositiveRate => RatePerDay.Value is { Value: > 0 };

    /// <summary>Whether the slow litter lost all that S lets it lose, or more: k is large, and no number.</summary>
    public bool IsAtPlateau => RatePerDay.Reason == MissingReason.SlowLossAtPlateau;

    /// <summary>As it enters the geometric mean of its site; only where there is a k above 0.</summary>
    public RatedBurial Rated => new(
        Weighed.Fast.Value!, Weighed.Slow.Value!, Weighed.InSoil!.Value, RatePerDay.Value!.Value, Shared, Lead.Row.Plot);

    public RecordKey Key => new(Header.ContributionId, RecordKind.Burial, BurialId);

    /// <summary>The bag whose dates, depth and treatment stand for the burial: the slow one, since k is its rate.</summary>
    public Bag Lead => Slow ?? Fast ?? Bags[0];

    public DateOnly BuriedOn => Lead.Row.BuriedOn;

    public DateOnly? RetrievedOn => Lead.Row.RetrievedOn;

    /// <summary>Days from burial to retrieval (d); negative where the dates are the wrong way round.</summary>
    public int? ExposureDays => RetrievedOn is { } retrieved ? retrieved.DayNumber - BuriedOn.DayNumber : null;
}
