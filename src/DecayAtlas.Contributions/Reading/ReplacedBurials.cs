namespace DecayAtlas.Contributions.Reading;

/// <summary>What a revision holds of the burials of the one before it, which count no more.</summary>
/// <param name="Now">How many burials it holds.</param>
/// <param name="Before">How many the one before held.</param>
/// <param name="Again">How many of those before are in it again, under the same name and with a first mass that is the same.</param>
public sealed record ReplacedBurials(ContributionHeader Header, int Now, int Before, int Again)
{
    public string Sentence => Invariant($"revision {Header.Revision} of {Header.ContributionId} holds {Now} burials, the one before ")
        + Invariant($"{Before}, {(Again == 0 ? "none" : Again)} of them the same");

    /// <returns>Nothing where all burials are there again, or where there were none.</returns>
    public static ReplacedBurials? Of(Contribution now, Contribution before)
    {
        HashSet<(string, LitterRole, double?)> weighed = [.. now.Bags.Select(bag => (bag.BurialId, bag.Role, bag.MassInitialGrams))];
        ILookup<string, BagRow> burials = before.Bags.ToLookup(bag => bag.BurialId, StringComparer.Ordinal);
        int again = burials.Count(bags => bags.Any(bag => weighed.Contains((bag.BurialId, bag.Role, bag.MassInitialGrams))));
        return again == burials.Count ? null
            : new ReplacedBurials(now.Header, now.Bags.Select(bag => bag.BurialId).Distinct().Count(), burials.Count, again);
    }
}
