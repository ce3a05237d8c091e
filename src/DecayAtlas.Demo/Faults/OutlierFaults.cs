namespace DecayAtlas.Demo.Faults;

/// <summary>Burials that nature allows, but not beside their own replicates.</summary>
internal static class OutlierFaults
{
    public static void Plant(FaultPlot plot) => FaultPlot.Times(2, () => ReplicateOutlier(plot));

    private static void ReplicateOutlier(FaultPlot plot)
    {
        (ContributionDraft contribution, BurialDraft burial) =
            plot.TakeBurial((c, b) => b.Slow!.ResolutionGrams <= 0.01 && b.Slow.AshFraction is null
            && c.Burials.Count(other => other.SiteId == b.SiteId) >= 7);
        LotDraft lot = contribution.LotOf(burial.Slow!);
        double loss = 1 - BurialMaker.RemainingFraction(burial.Slow!, lot)!.Value;
        MassFaults.SetRemaining(burial.Slow!, lot, 1 - (0.2 * loss));
        plot.Burial(contribution, burial, "replicate-outlier", "the slow litter lost a fifth of what it lost there");
    }
}
