namespace DecayAtlas.Contributions.Receiving;

/// <summary>An accepted contribution that is not where it was put.</summary>
/// <param name="ContentHash">Empty where nothing tells it.</param>
/// <param name="Place">Where it is expected, from the folder of the atlas.</param>
public sealed record LostContribution(string ContributionId, int Revision, string ContentHash, string Place)
{
    public static LostContribution Of(string contributionId, int revision, string contentHash) =>
        new(contributionId, revision, contentHash, contentHash.Length == 0 ? "intake" : "intake/" + contentHash);

    public override string ToString() => Invariant($"revision {Revision} of {ContributionId} is missing from {Place}");
}
