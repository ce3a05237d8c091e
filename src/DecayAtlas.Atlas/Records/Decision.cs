namespace DecayAtlas.Atlas.Records;

/// <summary>What a person decided about a record or a contribution, signed off with who, when and why; it is published.</summary>
/// <param name="Overruled">The record whose flag is overruled; <see langword="null"/> where the whole contribution is withdrawn.</param>
/// <param name="By">Who decided: a role or an id.</param>
public sealed record Decision(string ContributionId, RecordKey? Overruled, string? FlagCode, string By, DateOnly On, string Because)
{
    /// <summary>The revision of the contribution that an overruling was decided for: another may hold other numbers.</summary>
    public int Revision { get; init; } = 1;

    public bool IsWithdrawal => Overruled is null;
}
