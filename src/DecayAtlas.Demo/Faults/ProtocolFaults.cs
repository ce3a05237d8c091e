namespace DecayAtlas.Demo.Faults;

/// <summary>Dates, depth and handling that depart from the protocol, and bags that never came back.</summary>
internal sealed class ProtocolFaults(FaultPlot plot)
{
    public void Plant()
    {
        FaultPlot.Times(2, RetrievedBeforeBuried);
        plot.SpoilBags(2, "retrieved-in-future", "the year was typed as 2042 instead of 2024",
            bag => (bag.BuriedOn, bag.RetrievedOn) = (bag.BuriedOn.AddYears(18), bag.RetrievedOn!.Value.AddYears(18)),
            b => b.Fast is { BuriedOn.Year: 2024, RetrievedOn.Year: 2024 });
        // 150 days still end before the contribution was made: a later day would lie in the future as well.
        foreach ((int days, string code) in new[] { (24, "exposure-short"), (150, "exposure-long") })
            plot.SpoilBags(3, code, $"the dates say {days} days", bag => bag.RetrievedOn = bag.BuriedOn.AddDays(days));
        plot.SpoilBags(3, "depth-out-of-range", "buried at 35 cm instead of 8 cm", bag => bag.DepthCentimetres = 35);
        plot.SpoilBags(3, "unused-material-no", "the litter had been used before, which is another substrate", bag => bag.Unused = false);
        plot.SpoilBag(3, "bag-damaged", "the slow bag came back torn", b => b.Slow,
            bag => (bag.Condition, bag.Notes) = ("torn", "hole in the mesh, about 1 cm"));
        FaultPlot.Times(3, Lost);
        FaultPlot.Times(5, PairIncomplete);
        FaultPlot.Times(2, PairDatesDiffer);
        FaultPlot.Times(2, RoleDiffersFromLot);
        plot.SpoilBags(3, "drying-not-oven", "dried in air only, which left 5 % of water", DryInAir,
            b => b.Bags.All(bag => bag.FinalGrams > 0));
        plot.SpoilBags(1, "final-water-unstated", "how the litter was dried was not sent",
            bag => (bag.Drying, bag.DryingCelsius) = ("", null));
    }

    private static void DryInAir(BagDraft bag)
    {
        (bag.Drying, bag.DryingCelsius) = ("air", null);
        bag.FinalGrams = bag.Shown(bag.TareGrams + ((bag.FinalGrams!.Value - bag.TareGrams) / 0.95));
    }

    private void RetrievedBeforeBuried()
    {
        BurialDraft burial = plot.TakeBurial();
        foreach (BagDraft bag in burial.Bags) (bag.BuriedOn, bag.RetrievedOn) = (bag.RetrievedOn!.Value, bag.BuriedOn);
        plot.Bags(burial, "retrieved-before-buried", "burial and retrieval date were exchanged");
        plot.Bags(burial, "exposure-short", "a negative exposure is also short", "retrieved-before-buried");
    }

    private void Lost()
    {
        BurialDraft burial = plot.TakeBurial();
        BagDraft bag = burial.Fast;
        (bag.FinalGrams, bag.RetrievedOn, bag.AshFraction, bag.Condition, bag.Drying, bag.DryingCelsius, bag.Notes) =
            (null, null, null, "lost", "", null, "not found again");
        plot.Bag(burial, bag, "bag-lost", "the fast bag was not found again");
        plot.Burial(burial, "pair-incomplete", "one bag of the pair was lost", "bag-lost");
        plot.Burial(burial, "pair-dates-differ", "one bag of the pair has no retrieval date", "bag-lost");
    }

    private void PairIncomplete()
    {
        BurialDraft burial = plot.TakeBurial(b => b.Contribution.Samples.Count == 0);
        burial.FastIsLeftOut = true;
        plot.Burial(burial, "pair-incomplete", "the row of the fast bag was left out");
    }

    private void PairDatesDiffer()
    {
        // Both exposures stay inside 60 to 120 days, so that nothing but the difference is at fault.
        BurialDraft burial = plot.TakeBurial(b => b.Slow.Days <= 92);
        burial.Slow.RetrievedOn = burial.Slow.RetrievedOn!.Value.AddDays(21);
        plot.Burial(burial, "pair-dates-differ", "the slow bag was dug up 21 days after the fast one");
    }

    private void RoleDiffersFromLot()
    {
        BurialDraft burial = plot.TakeBurial(b => b.Slow.AshFraction is null);
        burial.Slow.Lot = burial.Fast.Lot;
        plot.Bag(burial, burial.Slow, "role-differs-from-lot", "a slow bag names a lot of the fast litter");
    }
}
