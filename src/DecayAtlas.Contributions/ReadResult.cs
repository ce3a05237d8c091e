namespace DecayAtlas.Contributions;

/// <summary>A contribution that was read.</summary>
/// <param name="Contribution">Null when there is any finding.</param>
/// <param name="Findings">At most <see cref="FindingList.Shown"/>, then one that says how many more there are.</param>
/// <param name="ContentHash">See <see cref="Contributions.ContentHash"/>.</param>
public sealed record ReadResult(Contribution? Contribution, IReadOnlyList<Finding> Findings, string ContentHash);
