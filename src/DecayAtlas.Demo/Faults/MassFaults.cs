namespace DecayAtlas.Demo.Faults;

/// <summary>Weighings that nature does not allow, and weighings that cannot be used.</summary>
internal sealed class MassFaults(FaultPlot plot)
{
    private const double CoarseStepGrams = 0.5;

    public void Plant()
    {
        plot.SpoilBag(3, "mass-gain", "the final mass is 0.6 g above the initial one", b => b.Slow,
            bag => bag.FinalGrams = bag.Shown(bag.InitialGrams + 0.6), bag => bag is { ResolutionGrams: <= 0.05, AshFraction: null });
        // Less than a step, as the mean of repeated readings gives it: two rounded readings explain that much.
        plot.SpoilBag(2, "mass-gain-within-weighing", "the final mass is 0.02 g above the initial one on a balance of 0.05 g", b => b.Slow,
            bag => bag.FinalGrams = Math.Round(bag.InitialGrams + 0.02, bag.MassDecimals),
            bag => bag is { ResolutionGrams: 0.05, AshFraction: null, DryingInitial: "oven" });
        FaultPlot.Times(2, LossExceedsLitter);
        FaultPlot.Times(3, FastLossBeyondHydrolysable);
        FaultPlot.Times(3, SlowLossAtPlateau);
        plot.SpoilBag(3, "mass-initial-off-nominal", "the bag was filled to about 62 % of the lot's nominal litter mass", b => b.Slow,
            FillLess, bag => bag.ResolutionGrams <= 0.05);
        FaultPlot.Times(2, TareMissing);
        FaultPlot.Times(2, BalanceCoarse);
        FaultPlot.Times(2, BalanceUnstated);
        FaultPlot.Times(2, AshWithoutLotAsh);
        FaultPlot.Times(2, AshOfOneBag);
    }

    private void LossExceedsLitter()
    {
        BurialDraft burial = plot.TakeBurial(b => b.Fast is { Basis: MassBasis.Gross, ResolutionGrams: <= 0.05 });
        burial.Fast.FinalGrams = burial.Fast.Shown(0.4 * burial.Fast.TareGrams);
        plot.Bag(burial, burial.Fast, "loss-exceeds-litter", "the final gross mass is below the tare of the empty bag");
        plot.Burial(burial, "fast-loss-beyond-hydrolysable", "more is gone than the hydrolysable share", "loss-exceeds-litter");
    }

    private void FastLossBeyondHydrolysable()
    {
        BurialDraft burial = plot.TakeBurial(b => b.Fast is { ResolutionGrams: <= 0.05, AshFraction: null });
        burial.Fast.SetRemaining(1 - (burial.Fast.Hydrolysable + 0.12));
        plot.Burial(burial, "fast-loss-beyond-hydrolysable", "the fast litter lost 12 percent points more than its hydrolysable share");
    }

    private void SlowLossAtPlateau()
    {
        BurialDraft burial = plot.TakeBurial(b => b.Slow is { ResolutionGrams: <= 0.05, AshFraction: null });
        double fastLoss = 1 - burial.Fast.Remaining;
        burial.Slow.SetRemaining(1 - ((burial.Slow.Hydrolysable * fastLoss / burial.Fast.Hydrolysable) + 0.12));
        plot.Burial(burial, "slow-loss-at-plateau",
            "the slow litter lost 12 percent points more than the fast litter's stabilisation lets it lose");
    }

    // Both weighings scaled about the tare: the loss stays right, only the filling is off.
    private static void FillLess(BagDraft bag)
    {
        double Less(double grams) => bag.Shown(bag.TareGrams + (0.62 * (grams - bag.TareGrams)));
        (bag.InitialGrams, bag.FinalGrams) = (Less(bag.InitialGrams), Less(bag.FinalGrams!.Value));
    }

    private void TareMissing()
    {
        BurialDraft burial = plot.TakeBurial(b => b.Fast is { Basis: MassBasis.Gross, AshFraction: null });
        UseShortSheetLots(burial, "tare-missing");
        plot.Bags(burial, "tare-missing", "gross weighings of a lot that states no tare");
    }

    private void BalanceCoarse()
    {
        static double Step(double grams) => Math.Round(grams / CoarseStepGrams) * CoarseStepGrams;
        static BagDraft Coarse(BagDraft bag) =>
            bag with { InitialGrams = Step(bag.InitialGrams), FinalGrams = Step(bag.FinalGrams!.Value), ResolutionGrams = 0.01 };
        BurialDraft burial = plot.TakeBurial(b => b.Contribution.Contributor.ResolutionGrams >= 0.01
            && BurialMaker.LooksSound(b with { Fast = Coarse(b.Fast), Slow = Coarse(b.Slow) }));
        foreach (BagDraft bag in burial.Bags)
        {
            (bag.InitialGrams, bag.FinalGrams, bag.ResolutionGrams) =
                (Step(bag.InitialGrams), Step(bag.FinalGrams!.Value), CoarseStepGrams);
        }

        plot.Bags(burial, "balance-coarse", "weighed on a balance that shows steps of 0.5 g");
    }

    private void BalanceUnstated()
    {
        BurialDraft first = plot.TakeBurial(b => b.Contribution.Contributor.Kind is ContributorKind.School);
        foreach (BurialDraft burial in first.Contribution.At(first.SiteId))
        {
            foreach (BagDraft bag in burial.Bags) bag.StatesResolution = false;
            plot.Bags(burial, "balance-unstated", "the resolution of the balance was left empty");
        }
    }

    private void AshWithoutLotAsh()
    {
        BurialDraft burial = plot.TakeBurial(b => b.Fast is { Basis: MassBasis.Litter, AshFraction: null });
        UseShortSheetLots(burial, "ash-without-lot-ash");
        foreach (BagDraft bag in burial.Bags) bag.AshFraction = 0.09;
        plot.Bags(burial, "ash-without-lot-ash", "ash of the retrieved litter was measured, but the lot states none");
    }

    // What a group sends that had no time for the second bag: soil on both, ash of one.
    private void AshOfOneBag()
    {
        BurialDraft burial = plot.TakeBurial(b => b is { Fast.AshFraction: not null, Slow.AshFraction: not null });
        burial.Fast.AshFraction = null;
        plot.Burial(burial, "ash-of-one-bag", "the ash of the slow bag alone was sent");
    }

    private void UseShortSheetLots(BurialDraft burial, string cause)
    {
        foreach (BagDraft bag in burial.Bags)
        {
            bag.Lot = StandardLots.WithShortSheet(bag.Role);
            if (!burial.Contribution.Lots.Contains(bag.Lot)) burial.Contribution.Lots.Add(bag.Lot);
            if (bag.DryingInitial == "none")
                plot.Bag(burial, bag, "initial-water-unstated", "weighed as supplied from a lot whose moisture is not known", cause);
            plot.Bag(burial, bag, "chemistry-basis-unstated", "the lot's sheet gives the hydrolysable fraction only", cause);
        }
    }
}
