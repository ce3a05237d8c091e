namespace DecayAtlas.Demo.Faults;

/// <summary>Weighings that nature does not allow, and weighings that cannot be used.</summary>
internal static class MassFaults
{
    public static void Plant(FaultPlot plot)
    {
        FaultPlot.Times(3, () => MassGain(plot));
        FaultPlot.Times(2, () => MassGainWithinWeighing(plot));
        FaultPlot.Times(2, () => LossExceedsLitter(plot));
        FaultPlot.Times(3, () => FastLossBeyondHydrolysable(plot));
        FaultPlot.Times(3, () => SlowLossAtPlateau(plot));
        FaultPlot.Times(3, () => MassInitialOffNominal(plot));
        FaultPlot.Times(2, () => TareMissing(plot));
        FaultPlot.Times(2, () => BalanceCoarse(plot));
        FaultPlot.Times(2, () => BalanceUnstated(plot));
        FaultPlot.Times(2, () => AshWithoutLotAsh(plot));
    }

    private static void MassGain(FaultPlot plot)
    {
        (ContributionDraft contribution, BurialDraft burial) =
            plot.TakeBurial((_, b) => b.Slow!.ResolutionGrams <= 0.05 && b.Slow.AshFraction is null);
        BagDraft bag = burial.Slow!;
        bag.FinalGrams = Written(bag, bag.InitialGrams!.Value + 0.6);
        plot.Bag(contribution, bag, "mass-gain", "the final mass is 0.6 g above the initial one");
    }

    private static void MassGainWithinWeighing(FaultPlot plot)
    {
        (ContributionDraft contribution, BurialDraft burial) =
            plot.TakeBurial((_, b) => b.Slow!.ResolutionGrams is 0.05 && b.Slow.AshFraction is null);
        BagDraft bag = burial.Slow!;
        // Less than a step, as the mean of repeated readings gives it: two rounded readings explain that much.
        bag.FinalGrams = Math.Round(bag.InitialGrams!.Value + 0.02, bag.MassDecimals);
        plot.Bag(contribution, bag, "mass-gain-within-weighing", "the final mass is 0.02 g above the initial one on a balance of 0.05 g");
    }

    private static void LossExceedsLitter(FaultPlot plot)
    {
        (ContributionDraft contribution, BurialDraft burial) =
            plot.TakeBurial((_, b) => b.Fast!.Basis == MassBasis.Gross && b.Fast.ResolutionGrams <= 0.05);
        BagDraft bag = burial.Fast!;
        bag.FinalGrams = Written(bag, 0.4 * contribution.LotOf(bag).TareGrams!.Value);
        plot.Bag(contribution, bag, "loss-exceeds-litter", "the final gross mass is below the tare of the empty bag");
        plot.Burial(contribution, burial, "fast-loss-beyond-hydrolysable", "more is gone than the hydrolysable share",
            "loss-exceeds-litter");
    }

    private static void FastLossBeyondHydrolysable(FaultPlot plot)
    {
        (ContributionDraft contribution, BurialDraft burial) =
            plot.TakeBurial((_, b) => b.Fast!.ResolutionGrams <= 0.05 && b.Fast.AshFraction is null);
        BagDraft bag = burial.Fast!;
        LotDraft lot = contribution.LotOf(bag);
        SetRemaining(bag, lot, 1 - (lot.Hydrolysable + 0.12));
        plot.Burial(contribution, burial, "fast-loss-beyond-hydrolysable",
            "the fast litter lost 12 percent points more than its hydrolysable share");
    }

    private static void SlowLossAtPlateau(FaultPlot plot)
    {
        (ContributionDraft contribution, BurialDraft burial) =
            plot.TakeBurial((_, b) => b.Slow!.ResolutionGrams <= 0.05 && b.Slow.AshFraction is null);
        LotDraft fastLot = contribution.LotOf(burial.Fast!), slowLot = contribution.LotOf(burial.Slow!);
        double fastLoss = 1 - BurialMaker.RemainingFraction(burial.Fast!, fastLot)!.Value;
        SetRemaining(burial.Slow!, slowLot, 1 - ((slowLot.Hydrolysable * fastLoss / fastLot.Hydrolysable) + 0.12));
        plot.Burial(contribution, burial, "slow-loss-at-plateau",
            "the slow litter lost 12 percent points more than the fast litter's stabilisation lets it lose");
    }

    private static void MassInitialOffNominal(FaultPlot plot)
    {
        (ContributionDraft contribution, BurialDraft burial) = plot.TakeBurial((_, b) => b.Slow!.ResolutionGrams <= 0.05);
        BagDraft bag = burial.Slow!;
        // Both weighings scaled about the tare: the loss stays right, only the filling is off.
        double tare = bag.Basis == MassBasis.Gross ? contribution.LotOf(bag).TareGrams!.Value : 0;
        bag.InitialGrams = Written(bag, tare + (0.62 * (bag.InitialGrams!.Value - tare)));
        bag.FinalGrams = Written(bag, tare + (0.62 * (bag.FinalGrams!.Value - tare)));
        plot.Bag(contribution, bag, "mass-initial-off-nominal", "the bag was filled to about 62 % of the lot's nominal litter mass");
    }

    private static void TareMissing(FaultPlot plot)
    {
        (ContributionDraft contribution, BurialDraft burial) =
            plot.TakeBurial((_, b) => b.Fast!.Basis == MassBasis.Gross && b.Fast.AshFraction is null);
        UseShortSheetLots(contribution, burial);
        plot.Bags(contribution, burial, "tare-missing", "gross weighings of a lot that states no tare");
    }

    private static void BalanceCoarse(FaultPlot plot)
    {
        (ContributionDraft contribution, BurialDraft burial) = plot.TakeBurial((c, b) => c.Contributor.ResolutionGrams >= 0.01
            && BurialMaker.LooksSound(Coarsened(b), c.LotOf(b.Fast!), c.LotOf(b.Slow!)));
        BurialDraft coarse = Coarsened(burial);
        foreach ((BagDraft bag, BagDraft source) in burial.Bags.Zip(coarse.Bags))
        {
            (bag.InitialGrams, bag.FinalGrams, bag.ResolutionGrams, bag.MassDecimals) =
                (source.InitialGrams, source.FinalGrams, CoarseStepGrams, 1);
        }

        plot.Bags(contribution, burial, "balance-coarse", "weighed on a balance that shows steps of 0.5 g");
    }

    private const double CoarseStepGrams = 0.5;

    private static BurialDraft Coarsened(BurialDraft burial)
    {
        static double? Step(double? grams) => Math.Round(grams!.Value / CoarseStepGrams) * CoarseStepGrams;
        static BagDraft Coarse(BagDraft bag) =>
            bag with { InitialGrams = Step(bag.InitialGrams), FinalGrams = Step(bag.FinalGrams), ResolutionGrams = 0.01 };
        return new BurialDraft(burial.BurialId, burial.SiteId, Coarse(burial.Fast!), Coarse(burial.Slow!));
    }

    private static void BalanceUnstated(FaultPlot plot)
    {
        (ContributionDraft contribution, BurialDraft first) = plot.TakeBurial((c, _) => c.Contributor.Kind is ContributorKind.School);
        foreach (BurialDraft burial in contribution.Burials.Where(burial => burial.SiteId == first.SiteId))
        {
            foreach (BagDraft bag in burial.Bags) bag.ResolutionGrams = null;
            plot.Bags(contribution, burial, "balance-unstated", "the resolution of the balance was left empty");
        }
    }

    private static void AshWithoutLotAsh(FaultPlot plot)
    {
        (ContributionDraft contribution, BurialDraft burial) =
            plot.TakeBurial((_, b) => b.Fast!.Basis == MassBasis.Litter && b.Fast.AshFraction is null);
        UseShortSheetLots(contribution, burial);
        foreach (BagDraft bag in burial.Bags) bag.AshFraction = 0.09;
        plot.Bags(contribution, burial, "ash-without-lot-ash", "ash of the retrieved litter was measured, but the lot states none");
    }

    private static void UseShortSheetLots(ContributionDraft contribution, BurialDraft burial)
    {
        foreach (BagDraft bag in burial.Bags)
        {
            LotDraft lot = StandardLots.WithShortSheet(bag.Role);
            if (!contribution.Lots.Exists(known => known.LotId == lot.LotId)) contribution.Lots.Add(lot);
            bag.LotId = lot.LotId;
        }
    }

    internal static void SetRemaining(BagDraft bag, LotDraft lot, double fraction)
    {
        double tare = bag.Basis == MassBasis.Gross ? lot.TareGrams!.Value : 0;
        bag.FinalGrams = Written(bag, tare + (fraction * (bag.InitialGrams!.Value - tare)));
    }

    private static double Written(BagDraft bag, double grams) =>
        Math.Round(Math.Round(grams / bag.ResolutionGrams!.Value) * bag.ResolutionGrams.Value, bag.MassDecimals);
}
