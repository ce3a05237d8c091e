namespace DecayAtlas.Contributions.Campaigns;

/// <summary>Days that are none of the campaign's: bags may lie longer or shorter than was planned, but a wrong month is likelier, and sets
/// k off as much as it sets the days off. Told, and no ground to refuse.</summary>
internal static class CampaignDayWarnings
{
    /// <param name="at">Gives a finding about a row its cell, by the litter of its bag.</param>
    public static IReadOnlyList<Finding> Of(IReadOnlyList<BagRow> bags, ExpectedDays expected, string file, string? sheet,
        Func<Finding, string?, Finding> at)
    {
        FindingList warnings = new();
        HashSet<Finding> told = [];
        foreach (BagRow bag in bags)
        {
            Look(bag, "buried_on", expected.Buried, bag.BuriedOn);
            if (bag.RetrievedOn is { } dug)
                Look(bag, "retrieved_on", expected.Retrieved, dug);
        }
        return warnings.Close(file);

        void Look(BagRow bag, string column, DayRange? range, DateOnly day)
        {
            if (expected.Holds(range, day))
                return;
            Finding finding = at(new Finding(FindingCode.CampaignDays, file, bag.Row, column, Invariant($"{day:yyyy-MM-dd}"),
                Invariant($"a day from {range!.From:yyyy-MM-dd} to {range.To:yyyy-MM-dd}, as the campaign planned"),
                "correct the day if it was another; nothing is to be done if it is right")
            { Sheet = sheet }, bag.Role == LitterRole.Fast ? "fast" : "slow");
            // both bags of a hole have one cell
            if (told.Add(finding))
                warnings.Add(finding);
        }
    }
}
