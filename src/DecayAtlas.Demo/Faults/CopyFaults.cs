namespace DecayAtlas.Demo.Faults;

/// <summary>Rows sent twice, numbers pasted from one site to another, lots that say two things.</summary>
internal static class CopyFaults
{
    public static void Plant(FaultPlot plot)
    {
        FaultPlot.Times(2, () => RepeatedWithin(plot));
        FaultPlot.Times(2, () => RepeatedAcross(plot));
        FaultPlot.Times(2, () => MassesPasted(plot));
        LotDisagrees(plot);
    }

    private static void RepeatedWithin(FaultPlot plot)
    {
        (ContributionDraft contribution, BurialDraft burial) = plot.TakeBurial((c, _) => c.Contributor.ResolutionGrams <= 0.01);
        string copyId = burial.BurialId + "bis";
        BagDraft Copy(BagDraft bag) => bag with { BagId = $"{copyId}-{bag.BagId[^1]}", BurialId = copyId };
        BurialDraft copy = new(copyId, burial.SiteId, Copy(burial.Fast!), Copy(burial.Slow!));
        contribution.Burials.Insert(contribution.Burials.IndexOf(burial) + 1, copy);
        plot.Bags(contribution, copy, "bag-repeated", $"the bags of burial {burial.BurialId} a second time under new ids");
        plot.Bags(contribution, burial, "bag-repeated", $"sent a second time as burial {copyId}", "bag-repeated");
    }

    private static void RepeatedAcross(FaultPlot plot)
    {
        (ContributionDraft earlier, BurialDraft burial) = plot.TakeBurial((c, b) => c.Contributor.ResolutionGrams <= 0.01
            && c.Contributor.Campaigns.Count > 1 && c.Campaign == CampaignPlan.All[c.Contributor.Campaigns[0]]
            && !plot.Faults.Exists(fault => fault.Code == "site-moved" && fault.ContributionId == c.Id && fault.RecordId == b.SiteId));
        ContributionDraft later = plot.Contributions.First(other =>
            other.Contributor == earlier.Contributor && other.Campaign == CampaignPlan.All[earlier.Contributor.Campaigns[1]]);
        // The copy must stay a copy: no other fault may touch that site there.
        plot.Reserve(later, burial.SiteId);
        foreach (BagDraft bag in burial.Bags.Where(bag => !later.Lots.Exists(lot => lot.LotId == bag.LotId)))
            later.Lots.Add(earlier.LotOf(bag));
        BurialDraft copy = new(burial.BurialId, burial.SiteId, burial.Fast! with { }, burial.Slow! with { });
        later.Burials.Insert(0, copy);
        plot.Bags(later, copy, "bag-repeated", $"the same bags had been sent with {earlier.Id}");
        plot.Bags(earlier, burial, "bag-repeated", $"sent again with {later.Id}", "bag-repeated");
    }

    private static void MassesPasted(FaultPlot plot)
    {
        (ContributionDraft contribution, BurialDraft first) =
            plot.TakeBurial((c, b) => c.Contributor.Kind is ContributorKind.School or ContributorKind.Farm
            && c.Contributor.ResolutionGrams <= 0.01 && CountAt(c, b.SiteId) >= 3);
        (_, BurialDraft target) = plot.TakeBurial((c, b) => c == contribution && b.SiteId != first.SiteId && CountAt(c, b.SiteId) >= 3);
        foreach ((BurialDraft source, BurialDraft pasted) in At(contribution, first.SiteId).Zip(At(contribution, target.SiteId)).Take(3))
        {
            foreach ((BagDraft from, BagDraft to) in source.Bags.Zip(pasted.Bags))
                (to.InitialGrams, to.FinalGrams, to.AshFraction) = (from.InitialGrams, from.FinalGrams, from.AshFraction);

            plot.Burial(contribution, pasted,
                "masses-repeated", $"all four masses equal those of burial {source.BurialId} at another site");
            plot.Burial(contribution, source,
                "masses-repeated", $"all four masses appear again in burial {pasted.BurialId} at another site");
        }
    }

    private static void LotDisagrees(FaultPlot plot)
    {
        // One group copied the hydrolysable fraction of each lot from an older sheet.
        ContributionDraft contribution =
            plot.Contributions.First(c => c.Contributor.Kind == ContributorKind.YouthGroup && c.Campaign.Id == "2024-spring");
        foreach (LitterRole role in new[] { LitterRole.Fast, LitterRole.Slow })
        {
            int place = contribution.Lots.FindIndex(lot => lot.Role == role && lot.TareGrams is not null);
            LotDraft lot = contribution.Lots[place];
            contribution.Lots[place] = lot with { Hydrolysable = Math.Round(lot.Hydrolysable - 0.012, 3) };
            plot.Faults.Add(new PlantedFault(contribution.Id, "lot", lot.LotId, "lot-disagreement",
                "the hydrolysable fraction differs by 0.012 from that of the same lot in every other contribution"));
        }
    }

    private static int CountAt(ContributionDraft contribution, string siteId) =>
        contribution.Burials.Count(burial => burial.SiteId == siteId);

    private static IEnumerable<BurialDraft> At(ContributionDraft contribution, string siteId) =>
        contribution.Burials.Where(burial => burial.SiteId == siteId);
}
