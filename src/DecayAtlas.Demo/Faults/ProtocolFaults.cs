namespace DecayAtlas.Demo.Faults;

/// <summary>Dates, depth and handling that depart from the protocol, and bags that never came back.</summary>
internal static class ProtocolFaults
{
    public static void Plant(FaultPlot plot)
    {
        FaultPlot.Times(2, () => RetrievedBeforeBuried(plot));
        FaultPlot.Times(2, () => RetrievedInFuture(plot));
        FaultPlot.Times(3, () => Exposure(plot, 24, "exposure-short"));
        FaultPlot.Times(3, () => Exposure(plot, 150, "exposure-long"));
        FaultPlot.Times(3, () => DepthOutOfRange(plot));
        FaultPlot.Times(3, () => UsedMaterial(plot));
        FaultPlot.Times(3, () => Damaged(plot));
        FaultPlot.Times(3, () => Lost(plot));
        FaultPlot.Times(5, () => PairIncomplete(plot));
        FaultPlot.Times(2, () => PairDatesDiffer(plot));
        FaultPlot.Times(2, () => RoleDiffersFromLot(plot));
        FaultPlot.Times(3, () => DryingNotOven(plot));
    }

    private static void RetrievedBeforeBuried(FaultPlot plot)
    {
        (ContributionDraft contribution, BurialDraft burial) = plot.TakeBurial();
        foreach (BagDraft bag in burial.Bags) (bag.BuriedOn, bag.RetrievedOn) = (bag.RetrievedOn!.Value, bag.BuriedOn);
        plot.Bags(contribution, burial, "retrieved-before-buried", "burial and retrieval date were exchanged");
        plot.Bags(contribution, burial, "exposure-short", "a negative exposure is also short", "retrieved-before-buried");
    }

    private static void RetrievedInFuture(FaultPlot plot)
    {
        (ContributionDraft contribution, BurialDraft burial) =
            plot.TakeBurial((_, b) => b.Fast!.BuriedOn.Year == 2024 && b.Fast.RetrievedOn!.Value.Year == 2024);
        foreach (BagDraft bag in burial.Bags)
        {
            bag.BuriedOn = bag.BuriedOn.AddYears(18);
            bag.RetrievedOn = bag.RetrievedOn!.Value.AddYears(18);
        }

        plot.Bags(contribution, burial, "retrieved-in-future", "the year was typed as 2042 instead of 2024");
    }

    // 150 days still end before the contribution was made: a later day would lie in the future as well.
    private static void Exposure(FaultPlot plot, int days, string code)
    {
        (ContributionDraft contribution, BurialDraft burial) = plot.TakeBurial();
        foreach (BagDraft bag in burial.Bags) bag.RetrievedOn = bag.BuriedOn.AddDays(days);
        plot.Bags(contribution, burial, code, $"the dates say {days} days");
    }

    private static void DepthOutOfRange(FaultPlot plot)
    {
        (ContributionDraft contribution, BurialDraft burial) = plot.TakeBurial();
        foreach (BagDraft bag in burial.Bags) bag.DepthCentimetres = 35;
        plot.Bags(contribution, burial, "depth-out-of-range", "buried at 35 cm instead of 8 cm");
    }

    private static void UsedMaterial(FaultPlot plot)
    {
        (ContributionDraft contribution, BurialDraft burial) = plot.TakeBurial();
        foreach (BagDraft bag in burial.Bags) bag.Unused = false;
        plot.Bags(contribution, burial, "unused-material-no", "the litter had been used before, which is another substrate");
    }

    private static void Damaged(FaultPlot plot)
    {
        (ContributionDraft contribution, BurialDraft burial) = plot.TakeBurial();
        burial.Slow!.Condition = "torn";
        burial.Slow.Notes = "hole in the mesh, about 1 cm";
        plot.Bag(contribution, burial.Slow, "bag-damaged", "the slow bag came back torn");
    }

    private static void Lost(FaultPlot plot)
    {
        (ContributionDraft contribution, BurialDraft burial) = plot.TakeBurial();
        BagDraft bag = burial.Fast!;
        (bag.FinalGrams, bag.RetrievedOn, bag.AshFraction, bag.Condition, bag.Drying, bag.DryingCelsius) =
            (null, null, null, "lost", "", null);
        bag.Notes = "not found again";
        plot.Bag(contribution, bag, "bag-lost", "the fast bag was not found again");
        plot.Burial(contribution, burial, "pair-incomplete", "one bag of the pair was lost", "bag-lost");
        plot.Burial(contribution, burial, "pair-dates-differ", "one bag of the pair has no retrieval date", "bag-lost");
    }

    private static void PairIncomplete(FaultPlot plot)
    {
        (ContributionDraft contribution, BurialDraft burial) = plot.TakeBurial((c, _) => c.Samples.Count == 0);
        burial.Fast = null;
        plot.Burial(contribution, burial, "pair-incomplete", "the row of the fast bag was left out");
    }

    private static void PairDatesDiffer(FaultPlot plot)
    {
        // Both exposures stay inside 60 to 120 days, so that nothing but the difference is at fault.
        (ContributionDraft contribution, BurialDraft burial) =
            plot.TakeBurial((_, b) => b.Slow!.RetrievedOn!.Value.DayNumber - b.Slow.BuriedOn.DayNumber <= 92);
        burial.Slow!.RetrievedOn = burial.Slow.RetrievedOn!.Value.AddDays(21);
        plot.Burial(contribution, burial, "pair-dates-differ", "the slow bag was dug up 21 days after the fast one");
    }

    private static void RoleDiffersFromLot(FaultPlot plot)
    {
        (ContributionDraft contribution, BurialDraft burial) = plot.TakeBurial((_, b) => b.Slow!.AshFraction is null);
        BagDraft bag = burial.Slow!;
        bag.LotId = burial.Fast!.LotId;
        plot.Bag(contribution, bag, "role-differs-from-lot", "a slow bag names a lot of the fast litter");
    }

    private static void DryingNotOven(FaultPlot plot)
    {
        (ContributionDraft contribution, BurialDraft burial) = plot.TakeBurial();
        foreach (BagDraft bag in burial.Bags) (bag.Drying, bag.DryingCelsius) = ("air", null);
        plot.Bags(contribution, burial, "drying-not-oven", "dried in air only");
    }
}
