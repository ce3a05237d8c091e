namespace DecayAtlas.Demo.Faults;

/// <summary>
/// Faults that only show among others, each of a stated size: readings that are possible and yet wrong. Where a seed leaves no place for
/// one, it is not planted.
/// </summary>
internal sealed class StatisticalFaults(FaultPlot plot)
{
    // contributions and contributors that have had their share
    private readonly HashSet<string> _used = new(StringComparer.Ordinal);

    /// <summary>A few of each, of a size that ought to be found.</summary>
    public void Plant()
    {
        FaultPlot.Times(2, ReplicateOutlier);
        BalanceReadsHigh(0.10);
        BalanceReadsHigh(-0.12);
        DigitsRounded(0.6);
        DigitsRounded(1);
        PastedAcross(3);
        FaultPlot.Times(3, () => OddPair(0.25));
        SiteSurprises(1.0);
        SiteSurprises(1.2);
    }

    /// <summary>Each family in steps from next to nothing to gross, and nothing else.</summary>
    public void PlantGraded()
    {
        foreach (double grams in new[] { 0.02, 0.04, 0.06, 0.08, 0.12 })
            BalanceReadsHigh(grams);
        foreach (double share in new[] { 0.1, 0.2, 0.3, 0.5, 1 })
            DigitsRounded(share);
        foreach (int burials in new[] { 1, 2, 3 })
            PastedAcross(burials);
        foreach (double shift in new[] { 0.3, 0.5, 0.7, 0.9, 1.2 })
            FaultPlot.Times(2, () => SiteSurprises(shift));
        foreach (double grams in new[] { 0.05, 0.10, 0.15, 0.20, 0.30 })
            FaultPlot.Times(6, () => OddPair(grams));
        foreach (double shift in new[] { 0.25, 0.5, 0.75, 1.0, 1.5 })
            FaultPlot.Times(4, () => OddReplicate(shift));
    }

    private void ReplicateOutlier()
    {
        BurialDraft burial = plot.TakeBurial(b => b.Slow is { ResolutionGrams: <= 0.01, AshFraction: null }
            && b.Contribution.At(b.SiteId).Count() >= 7);
        burial.Slow.SetRemaining(1 - (0.2 * (1 - burial.Slow.Remaining)));
        plot.Burial(burial, "replicate-outlier", "the slow litter lost a fifth of what it lost there");
    }

    private void BalanceReadsHigh(double grams)
    {
        if (plot.Contributions.LastOrDefault(c => c.Burials.Count is >= 20 and <= 50 && c.Contributor.ResolutionGrams <= 0.02 && IsFree(c))
            is not { } contribution)
        {
            return;
        }

        _used.Add(contribution.Id);
        foreach (BurialDraft burial in contribution.Burials)
        {
            foreach (BagDraft bag in burial.Bags)
            {
                bag.InitialGrams = bag.Shown(bag.InitialGrams + grams);
                if (bag.FinalGrams is { } final) bag.FinalGrams = bag.Shown(final + grams);
                if (bag.OffNominalGrams > StandardLots.ToleranceGrams + 1e-9)
                {
                    plot.Bag(burial, bag, "mass-initial-off-nominal", "a full bag on a balance that reads high or low",
                        "contributor-bias");
                }
            }
        }

        plot.Contribution(contribution,
            "contributor-bias", $"the balance reads {Math.Abs(grams):0.00} g too {(grams > 0 ? "high" : "low")}", Math.Abs(grams), "g");
    }

    private void DigitsRounded(double share)
    {
        if (plot.Contributions.FirstOrDefault(c =>
            c.Burials.Count >= 40 && c.Contributor.Kind == ContributorKind.Laboratory && !_used.Contains(c.Id)) is not { } contribution)
        {
            return;
        }

        _used.Add(contribution.Id);
        double owed = 0;
        // what was spoiled before stays as it was: some of it hangs on two masses being equal
        foreach (BagDraft bag in contribution.Burials.Where(b => !IsSpoiled(b)).SelectMany(b => b.Bags))
        {
            owed += share;
            if (owed < 1)
                continue;
            owed -= 1;
            double step = 5 * bag.ResolutionGrams;
            bag.FinalGrams = Math.Round(Math.Round(bag.FinalGrams!.Value / step) * step, bag.MassDecimals);
        }

        plot.Contribution(contribution, "digit-preference", $"{share:0%} of the final masses were rounded to 0 or 5 in the last digit",
            share, "1");
    }

    private void PastedAcross(int burials)
    {
        ContributionDraft[] fitting = [.. plot.Contributions.Where(c =>
            c.Contributor is { ResolutionGrams: 0.01, Kind: ContributorKind.Farm } && IsFree(c))];
        (ContributionDraft From, ContributionDraft To) pair = fitting.SelectMany(_ => fitting, (from, to) => (From: from, To: to))
            .FirstOrDefault(p => p.From.Contributor != p.To.Contributor && p.From.Contributor.Basis == p.To.Contributor.Basis
                && p.From.Lots[0].LotId == p.To.Lots[0].LotId);
        if (pair.From is not { } from || pair.To is not { } to
            || plot.TakeSiteIfAny((c, site) => c == from && At(c, site.SiteId).Count() >= burials + 1) is not { Site: var source }
            || plot.TakeSiteIfAny((c, site) => c == to && At(c, site.SiteId).Count() >= burials + 1) is not { Site: var target })
        {
            return;
        }

        const string code = "masses-repeated-across";
        _used.UnionWith([from.Id, to.Id]);
        foreach ((BurialDraft a, BurialDraft b) in At(from, source.SiteId).Zip(At(to, target.SiteId)).Take(burials))
        {
            foreach ((BagDraft bag, BagDraft copy) in a.Bags.Zip(b.Bags))
                (copy.InitialGrams, copy.FinalGrams) = (bag.InitialGrams, bag.FinalGrams);
            plot.Burial(b, code, $"all four masses are those of burial {a.BurialId} of another group; {burials} burials were pasted",
                size: burials, sizeOf: "burials pasted");
            plot.Burial(a, code, $"pasted by another group as burial {b.BurialId}", code);
            plot.Burial(b, "multivariate-outlier", "another site's numbers", code);
        }

        // pasted burials pull at their site's mean, from which the others are then far
        foreach (BurialDraft burial in At(to, target.SiteId))
        {
            plot.Burial(burial, "multivariate-outlier", "lies beside pasted numbers", code);
            plot.Burial(burial, "replicate-outlier", "lies beside pasted numbers", code);
        }
    }

    private void OddPair(double grams)
    {
        // three or four burials: too few for the tests that look at one site alone
        if (plot.TakeBurialIfAny(b => b is { FastIsLeftOut: false, Fast.ResolutionGrams: <= 0.02 } && At(b).Count() is 3 or 4
            && b.Fast.Remaining > 0.3 + (grams / StandardLots.NominalGrams)) is not { } burial)
        {
            return;
        }

        burial.Fast.FinalGrams = burial.Fast.Shown(burial.Fast.FinalGrams!.Value - grams);
        plot.Burial(burial, "multivariate-outlier", $"{grams:0.00} g of the fast litter fell out of the bag",
            size: grams, sizeOf: "g of fast litter lost");
    }

    private void OddReplicate(double shift)
    {
        if (plot.TakeBurialIfAny(b => b is { FastIsLeftOut: false, Slow.ResolutionGrams: <= 0.02 } && At(b).Count() >= 5) is not { } burial)
            return;

        SlowDown(burial, shift);
        plot.Burial(burial, "replicate-outlier", $"ln k lowered by {shift:0.00}", size: shift, sizeOf: "ln k lowered");
        plot.Burial(burial, "multivariate-outlier", "ln k lowered", "replicate-outlier");
    }

    private void SiteSurprises(double shift)
    {
        // one of a group at most, and in its newest contribution, on whose description of the site the flag stands
        if (plot.TakeSiteIfAny((c, s) => !s.Sensitive && s.TrueLnRate > Math.Log(0.009)
            && c.Campaign == CampaignPlan.All[c.Contributor.Campaigns[^1]] && c.Contributor.ResolutionGrams <= 0.02
            && At(c, s.SiteId).Count() >= 3 && !_used.Contains(c.Contributor.Id)) is not var (contribution, site))
        {
            return;
        }

        _used.Add(contribution.Contributor.Id);
        foreach (BurialDraft burial in At(contribution, site.SiteId))
            SlowDown(burial, shift);
        plot.Site(contribution, site, "surprise", $"ln k of every burial lowered by {shift:0.00}: another litter than the sheet says",
            size: shift, sizeOf: "ln k lowered");
    }

    /// <summary>Weighs the slow bag anew as if its k had been exp(-shift) times what it was.</summary>
    private static void SlowDown(BurialDraft burial, double shift)
    {
        BagDraft slow = burial.Slow;
        double a = slow.Hydrolysable * (1 - burial.Fast.Remaining) / burial.Fast.Hydrolysable, w = slow.Remaining;
        double slowed = 1 - a + (a * Math.Pow((w - 1 + a) / a, Math.Exp(-shift)));
        slow.FinalGrams = slow.Shown(slow.TareGrams + ((slow.FinalGrams!.Value - slow.TareGrams) * slowed / w));
    }

    /// <summary>Whether nothing planted there hangs on two masses being equal, or on the very edge of a limit.</summary>
    private bool IsFree(ContributionDraft contribution) => !_used.Contains(contribution.Id)
        && !plot.Faults.Exists(f => f.ContributionId == contribution.Id
            && (f.Code is "bag-repeated" or "masses-repeated" or "loss-exceeds-litter" or "tare-missing" or "role-differs-from-lot"
                || f.Code.Split('-')[0] is "mass" or "ash" or "balance"));

    private bool IsSpoiled(BurialDraft burial) => plot.Faults.Exists(f => f.ContributionId == burial.Contribution.Id
        && (f.RecordId == burial.BurialId || burial.Bags.Any(bag => bag.BagId == f.RecordId)));

    private static IEnumerable<BurialDraft> At(BurialDraft burial) => At(burial.Contribution, burial.SiteId);

    private static IEnumerable<BurialDraft> At(ContributionDraft contribution, string siteId) =>
        contribution.At(siteId).Where(burial => !burial.FastIsLeftOut);
}
