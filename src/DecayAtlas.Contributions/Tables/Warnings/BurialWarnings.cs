namespace DecayAtlas.Contributions.Tables.Warnings;

/// <summary>
/// Burials that can be read but give no k, because more lay in them than one fast and one slow bag at one site. Most often an id
/// was used again, such as the number of a hole that starts anew at each site. Told, and no ground to refuse.
/// </summary>
internal static class BurialWarnings
{
    public static IReadOnlyList<Finding> Of(IEnumerable<BagRow> bags, string file, string? sheet)
    {
        FindingList warnings = new();
        foreach (IGrouping<string, BagRow> burial in bags.GroupBy(bag => bag.BurialId))
        {
            if (burial.Skip(1).FirstOrDefault(bag => bag.SiteId != burial.First().SiteId) is { } elsewhere)
            {
                BagRow first = burial.First();
                Add(FindingCode.BurialAtTwoSites, elsewhere, Invariant($"the burial {FindingText.Quote(burial.Key)} at the sites ")
                    + Invariant($"{FindingText.Quote(first.SiteId)} (row {first.Row}) and ")
                    + Invariant($"{FindingText.Quote(elsewhere.SiteId)}"),
                    "one site a burial", "give each burial an id of its own, for example the site's id and the number of the hole");
                continue;
            }
            foreach (LitterRole role in new[] { LitterRole.Fast, LitterRole.Slow })
            {
                BagRow[] same = [.. burial.Where(bag => bag.Role == role)];
                if (same.Length > 1)
                {
                    Add(FindingCode.BurialWithTwoBags, same[1],
                        Invariant($"{same.Length} {(role == LitterRole.Fast ? "fast" : "slow")} bags in the burial ")
                        + Invariant($"{FindingText.Quote(burial.Key)}, the first in row {same[0].Row}"),
                        "one fast and one slow bag, or no k can be computed",
                        "give each pair of bags a burial id of its own, or correct which litter the bag holds");
                }
            }
        }
        return warnings.Close(file);

        void Add(string code, BagRow bag, string found, string expected, string mend) =>
            warnings.Add(new Finding(code, file, bag.Row, "burial_id", found, expected, mend) { Sheet = sheet });
    }
}
