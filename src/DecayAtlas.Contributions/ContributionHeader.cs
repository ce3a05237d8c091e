namespace DecayAtlas.Contributions;

/// <summary>What the descriptor of a contribution says, without the contact data, which stays in the intake area.</summary>
/// <param name="ContributionId">Name of the data package; the same in every revision.</param>
/// <param name="Revision">From 1 up; the highest accepted revision is the one that counts.</param>
/// <param name="ContributorId">Id of the contributor; not a person's name.</param>
/// <param name="Licence">Name of the first licence, or its path when it has no name.</param>
public sealed record ContributionHeader(
    string ContributionId,
    int Revision,
    string ContributorId,
    string Campaign,
    string Protocol,
    DateOnly? Created,
    string Licence,
    string ContentHash)
{
    /// <summary>The highest number that a revision can have, as the profile has it.</summary>
    public const int HighestRevision = 9999;
}
