namespace DecayAtlas.Demo.Faults;

/// <summary>
/// Faults that only show among others, each of a stated size: readings that are possible and yet wrong. Where a seed leaves no place for
/// one, it is not planted.
/// </summary>
internal static class StatisticalFaults
{
    /// <summary>A few of each, of a size that ought to be found.</summary>
    public static void Plant(FaultPlot plot)
    {
        HashSet<string> used = new(StringComparer.Ordinal);
        BalanceReadsHigh(plot, used, 0.10);
        BalanceReadsHigh(plot, used, -0.12);
        DigitsRounded(plot, used, 0.6);
        DigitsRounded(plot, used, 1);
        PastedAcross(plot, used, 3);
        FaultPlot.Times(3, () => OddPair(plot, 0.25));
        SiteSurprises(plot, used, 1.0);
        SiteSurprises(plot, used, 1.2);
    }

    /// <summary>Each family in steps from next to nothing to gross, and nothing else.</summary>
    public static void PlantGraded(FaultPlot plot)
    {
        HashSet<string> used = new(StringComparer.Ordinal);
        foreach (double grams in new[] { 0.02, 0.04, 0.06, 0.08, 0.12 })
            BalanceReadsHigh(plot, used, grams);
        foreach (double share in new[] { 0.1, 0.2, 0.3, 0.5, 1 })
            DigitsRounded(plot, used, share);
        foreach (int burials in new[] { 1, 2, 3 })
            PastedAcross(plot, used, burials);
        foreach (double shift in new[] { 0.3, 0.5, 0.7, 0.9, 1.2 })
            FaultPlot.Times(2, () => SiteSurprises(plot, used, shift));
        foreach (double grams in new[] { 0.05, 0.10, 0.15, 0.20, 0.30 })
            FaultPlot.Times(6, () => OddPair(plot, grams));
        foreach (double shift in new[] { 0.25, 0.5, 0.75, 1.0, 1.5 })
            FaultPlot.Times(4, () => OddReplicate(plot, shift));
    }

    private static void BalanceReadsHigh(FaultPlot plot, HashSet<string> used, double grams)
    {
        if (plot.Contributions
            .LastOrDefault(
                c => c.Burials.Count is >= 20 and <= 50 && c.Contributor.ResolutionGrams <= 0.02
                    && IsFree(plot, used, c)) is not { } contribution)
        {
            return;
        }

        used.Add(contribution.Id);
        foreach (BagDraft bag in contribution.Bags.Where(b => b.InitialGrams is not null))
        {
            (bag.InitialGrams, bag.FinalGrams) =
                (Written(bag, bag.InitialGrams!.Value + grams), bag.FinalGrams is { } final ? Written(bag, final + grams) : null);
            LotDraft lot = contribution.LotOf(bag);
            double litter = bag.InitialGrams.Value - (bag.Basis == MassBasis.Gross ? lot.TareGrams ?? double.NaN : 0);
            if (Math.Abs(litter - lot.NominalGrams!.Value) > lot.ToleranceGrams + 1e-9)
            {
                plot.Bag(contribution, bag, "mass-initial-off-nominal", "a full bag on a balance that reads high or low",
                    "contributor-bias");
            }
        }

        plot.Contribution(contribution,
            "contributor-bias", $"the balance reads {Math.Abs(grams):0.00} g too {(grams > 0 ? "high" : "low")}", Math.Abs(grams), "g");
    }

    private static void DigitsRounded(FaultPlot plot, HashSet<string> used, double share)
    {
        if (plot.Contributions
            .FirstOrDefault(
                c => c.Burials.Count >= 40 && c.Contributor.Kind == ContributorKind.Laboratory
                    && !used.Contains(c.Id)) is not { } contribution)
        {
            return;
        }

        used.Add(contribution.Id);
        double owed = 0;
        // what was spoiled before stays as it was: some of it hangs on two masses being equal
        foreach (BagDraft bag in contribution.Burials.Where(b => !IsSpoiled(plot, contribution, b)).SelectMany(b => b.Bags))
        {
            owed += share;
            if (owed < 1)
                continue;
            owed -= 1;
            double step = 5 * bag.ResolutionGrams!.Value;
            bag.FinalGrams = Math.Round(Math.Round(bag.FinalGrams!.Value / step) * step, bag.MassDecimals);
        }

        plot.Contribution(contribution, "digit-preference", $"{share:0%} of the final masses were rounded to 0 or 5 in the last digit",
            share, "1");
    }

    private static void PastedAcross(FaultPlot plot, HashSet<string> used, int burials)
    {
        bool Fits(ContributionDraft c) => c.Contributor.ResolutionGrams is 0.01 && c.Contributor.Kind == ContributorKind.Farm
            && IsFree(plot, used, c);
        (ContributionDraft From, ContributionDraft To) pair = plot.Contributions.Where(Fits)
            .SelectMany(from => plot.Contributions.Where(Fits), (from, to) => (From: from, To: to))
            .FirstOrDefault(
                p => p.From.Contributor != p.To.Contributor && p.From.Contributor.Basis == p.To.Contributor.Basis
                    && p.From.Lots[0].LotId == p.To.Lots[0].LotId);
        if (pair.From is not { } from || pair.To is not { } to
            || plot.TakeSiteIfAny((c, site) => c == from && CountAt(c, site) >= burials + 1) is not { Site: var source }
            || plot.TakeSiteIfAny((c, site) => c == to && CountAt(c, site) >= burials + 1) is not { Site: var target })
        {
            return;
        }

        used.Add(from.Id);
        used.Add(to.Id);
        foreach ((BurialDraft a, BurialDraft b) in At(from, source).Zip(At(to, target)).Take(burials))
        {
            foreach ((BagDraft bag, BagDraft copy) in a.Bags.Zip(b.Bags))
                (copy.InitialGrams, copy.FinalGrams) = (bag.InitialGrams, bag.FinalGrams);
            plot.Burial(to, b,
                "masses-repeated-across", $"all four masses are those of burial {a.BurialId} of another group; {burials} burials were "
                + "pasted", null, burials, "burials pasted");
            plot.Burial(from, a, "masses-repeated-across", $"pasted by another group as burial {b.BurialId}", "masses-repeated-across");
            plot.Burial(to, b, "multivariate-outlier", "another site's numbers", "masses-repeated-across");
        }

        // pasted burials pull at their site's mean, from which the others are then far
        foreach (BurialDraft burial in At(to, target))
        {
            plot.Burial(to, burial, "multivariate-outlier", "lies beside pasted numbers", "masses-repeated-across");
            plot.Burial(to, burial, "replicate-outlier", "lies beside pasted numbers", "masses-repeated-across");
        }
    }

    private static void OddPair(FaultPlot plot, double grams)
    {
        // three or four burials: too few for the tests that look at one site alone
        if (plot.TakeBurialIfAny((c, b) => b is { Fast.ResolutionGrams: <= 0.02, Slow: not null } && At(c, b.SiteId).Count() is 3 or 4
            && RemainingOf(c, b.Fast) > 0.3 + (grams / StandardLots.NominalGrams)) is not var (contribution, burial))
        {
            return;
        }

        BagDraft bag = burial.Fast!;
        bag.FinalGrams = Written(bag, bag.FinalGrams!.Value - grams);
        plot.Burial(contribution, burial, "multivariate-outlier", $"{grams:0.00} g of the fast litter fell out of the bag", null, grams,
            "g of fast litter lost");
    }

    private static void OddReplicate(FaultPlot plot, double shift)
    {
        if (plot.TakeBurialIfAny(
            (c, b) => b is { Slow.ResolutionGrams: <= 0.02, Fast: not null }
                && At(c, b.SiteId).Count() >= 5) is not var (contribution, burial))
        {
            return;
        }

        SlowDown(contribution, burial, shift);
        plot.Burial(contribution, burial, "replicate-outlier", $"ln k lowered by {shift:0.00}", null, shift, "ln k lowered");
        plot.Burial(contribution, burial, "multivariate-outlier", "ln k lowered", "replicate-outlier");
    }

    private static void SiteSurprises(FaultPlot plot, HashSet<string> used, double shift)
    {
        // one of a group at most, and in its newest contribution, on whose description of the site the flag stands
        if (plot.TakeSiteIfAny((c, s) => !s.Sensitive && s.TrueLnRate > Math.Log(0.009)
            && c.Campaign == CampaignPlan.All[c.Contributor.Campaigns[^1]] && c.Contributor.ResolutionGrams <= 0.02
            && CountAt(c, s) >= 3 && !used.Contains(c.Contributor.Id)) is not var (contribution, site))
        {
            return;
        }

        used.Add(contribution.Contributor.Id);
        foreach (BurialDraft burial in At(contribution, site))
            SlowDown(contribution, burial, shift);
        plot.Site(contribution, site, "surprise", $"ln k of every burial lowered by {shift:0.00}: another litter than the sheet says",
            null, shift, "ln k lowered");
    }

    /// <summary>Weighs the slow bag anew as if its k had been exp(-shift) times what it was.</summary>
    private static void SlowDown(ContributionDraft contribution, BurialDraft burial, double shift)
    {
        BagDraft slow = burial.Slow!;
        LotDraft fastLot = contribution.LotOf(burial.Fast!), slowLot = contribution.LotOf(slow);
        double a = slowLot.Hydrolysable * (1 - RemainingOf(contribution, burial.Fast!)) / fastLot.Hydrolysable,
            w = RemainingOf(contribution, slow);
        double slowed = 1 - a + (a * Math.Pow((w - 1 + a) / a, Math.Exp(-shift)));
        double tare = slow.Basis == MassBasis.Gross ? slowLot.TareGrams!.Value : 0;
        slow.FinalGrams = Written(slow, tare + ((slow.FinalGrams!.Value - tare) * slowed / w));
    }

    private static double RemainingOf(ContributionDraft contribution, BagDraft bag) =>
        BurialMaker.RemainingFraction(bag, contribution.LotOf(bag)) ?? double.NaN;

    /// <summary>Whether nothing planted there hangs on two masses being equal, or on the very edge of a limit.</summary>
    private static bool IsFree(FaultPlot plot, HashSet<string> used, ContributionDraft contribution) => !used.Contains(contribution.Id)
        && !plot.Faults
            .Exists(f => f.ContributionId == contribution.Id
                && (f.Code is "bag-repeated" or "masses-repeated" or "loss-exceeds-litter" or "tare-missing" or "role-differs-from-lot"
            || f.Code.StartsWith("mass-", StringComparison.Ordinal) || f.Code.StartsWith("ash-", StringComparison.Ordinal)
            || f.Code.StartsWith("balance-", StringComparison.Ordinal)));

    private static bool IsSpoiled(FaultPlot plot, ContributionDraft contribution, BurialDraft burial) => plot.Faults.Exists(f =>
        f.ContributionId == contribution.Id && (f.RecordId == burial.BurialId || burial.Bags.Any(bag => bag.BagId == f.RecordId)));

    private static int CountAt(ContributionDraft contribution, SiteDraft site) => At(contribution, site).Count();

    private static IEnumerable<BurialDraft> At(ContributionDraft contribution, SiteDraft site) => At(contribution, site.SiteId);

    private static IEnumerable<BurialDraft> At(ContributionDraft contribution, string siteId) =>
        contribution.Burials.Where(b => b.SiteId == siteId && b.Fast is not null && b.Slow is not null);

    private static double Written(BagDraft bag, double grams) =>
        Math.Round(Math.Round(grams / bag.ResolutionGrams!.Value) * bag.ResolutionGrams.Value, bag.MassDecimals);
}
