namespace DecayAtlas.Atlas.Records;

/// <summary>One fast and one slow bag that lay together, and what they give.</summary>
/// <param name="Fast">The bag of the fast litter, where there is exactly one; so of the slow.</param>
/// <param name="Bags">Every bag that names the burial, in the order sent.</param>
/// <param name="StabilisationFactor">S (1), or why there is none.</param>
/// <param name="Rate">k (d⁻¹) with its covariance with S, or why there is none.</param>
public sealed record Burial(
    ContributionHeader Header,
    string BurialId,
    string SiteKey,
    Bag? Fast,
    Bag? Slow,
    IReadOnlyList<Bag> Bags,
    Computed<Estimate> StabilisationFactor,
    Computed<RateAndStabilisation> Rate)
{
    /// <summary>k (d⁻¹), or why there is none.</summary>
    public Computed<Estimate> RatePerDay { get; } = Rate.Value is { } both ? both.RatePerDay : Rate.Reason!.Value;

    /// <summary>Whether there is a k above 0, and so an ln k.</summary>
    public bool HasPositiveRate => RatePerDay.Value is { Value: > 0 };

    public RecordKey Key => new(Header.ContributionId, RecordKind.Burial, BurialId);

    /// <summary>The bag whose dates, depth and treatment stand for the burial: the slow one, since k is its rate.</summary>
    public Bag Lead => Slow ?? Fast ?? Bags[0];

    public DateOnly BuriedOn => Lead.Row.BuriedOn;

    public DateOnly? RetrievedOn => Lead.Row.RetrievedOn;

    /// <summary>Days from burial to retrieval (d); negative where the dates are the wrong way round.</summary>
    public int? ExposureDays => RetrievedOn is { } retrieved ? retrieved.DayNumber - BuriedOn.DayNumber : null;
}
