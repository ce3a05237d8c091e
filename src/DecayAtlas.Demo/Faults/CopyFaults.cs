namespace DecayAtlas.Demo.Faults;

/// <summary>Rows sent twice, numbers pasted from one site to another, lots that say two things.</summary>
internal sealed class CopyFaults(FaultPlot plot)
{
    public void Plant()
    {
        FaultPlot.Times(2, RepeatedWithin);
        FaultPlot.Times(2, RepeatedAcross);
        FaultPlot.Times(2, MassesPasted);
        LotDisagrees();
    }

    private void RepeatedWithin()
    {
        BurialDraft burial = plot.TakeBurial(b => b.Contribution.Contributor.ResolutionGrams <= 0.01);
        string copyId = burial.BurialId + "bis";
        BagDraft Copy(BagDraft bag) => bag with { BagId = $"{copyId}-{bag.BagId[^1]}" };
        BurialDraft copy = burial with { BurialId = copyId, Fast = Copy(burial.Fast), Slow = Copy(burial.Slow) };
        List<BurialDraft> burials = burial.Contribution.Burials;
        burials.Insert(burials.IndexOf(burial) + 1, copy);
        plot.Bags(copy, "bag-repeated", $"the bags of burial {burial.BurialId} a second time under new ids");
        plot.Bags(burial, "bag-repeated", $"sent a second time as burial {copyId}", "bag-repeated");
    }

    private void RepeatedAcross()
    {
        BurialDraft burial = plot.TakeBurial(b => b.Contribution is { Contributor: { ResolutionGrams: <= 0.01, Campaigns.Count: > 1 } } c
            && c.Campaign == CampaignPlan.All[c.Contributor.Campaigns[0]]
            && !plot.Faults.Exists(fault => fault.Code == "site-moved" && fault.ContributionId == c.Id && fault.RecordId == b.SiteId));
        ContributionDraft earlier = burial.Contribution;
        ContributionDraft later = plot.Contributions.First(other =>
            other.Contributor == earlier.Contributor && other.Campaign == CampaignPlan.All[earlier.Contributor.Campaigns[1]]);
        // The copy must stay a copy: no other fault may touch that site there.
        plot.Reserve(later, burial.SiteId);
        later.Lots.AddRange(burial.Bags.Select(bag => bag.Lot).Except(later.Lots));
        BurialDraft copy = burial with { Contribution = later, Fast = burial.Fast with { }, Slow = burial.Slow with { } };
        later.Burials.Insert(0, copy);
        plot.Bags(copy, "bag-repeated", $"the same bags had been sent with {earlier.Id}");
        plot.Bags(burial, "bag-repeated", $"sent again with {later.Id}", "bag-repeated");
    }

    private void MassesPasted()
    {
        static int CountBeside(BurialDraft burial) => burial.Contribution.At(burial.SiteId).Count();
        BurialDraft first = plot.TakeBurial(b => b.Contribution.Contributor is
        { Kind: ContributorKind.School or ContributorKind.Farm, ResolutionGrams: <= 0.01 }
            && CountBeside(b) >= 3);
        ContributionDraft contribution = first.Contribution;
        BurialDraft target =
            plot.TakeBurial(b => b.Contribution == contribution && b.SiteId != first.SiteId && CountBeside(b) >= 3);
        foreach ((BurialDraft source, BurialDraft pasted) in contribution.At(first.SiteId).Zip(contribution.At(target.SiteId)).Take(3))
        {
            foreach ((BagDraft from, BagDraft to) in source.Bags.Zip(pasted.Bags))
                (to.InitialGrams, to.FinalGrams, to.AshFraction) = (from.InitialGrams, from.FinalGrams, from.AshFraction);

            plot.Burial(pasted, "masses-repeated", $"all four masses equal those of burial {source.BurialId} at another site");
            plot.Burial(source, "masses-repeated", $"all four masses appear again in burial {pasted.BurialId} at another site");
        }
    }

    private void LotDisagrees()
    {
        // One group copied the hydrolysable fraction of each lot from an older sheet.
        ContributionDraft contribution =
            plot.Contributions.First(c => c.Contributor.Kind == ContributorKind.YouthGroup && c.Campaign.Id == "2024-spring");
        foreach (LitterRole role in new[] { LitterRole.Fast, LitterRole.Slow })
        {
            int place = contribution.Lots.FindIndex(lot => lot.Role == role);
            LotDraft lot = contribution.Lots[place];
            LotDraft changed = lot with { Hydrolysable = Math.Round(lot.Hydrolysable - 0.012, 3) };
            contribution.Lots[place] = changed;
            foreach (BagDraft bag in contribution.Bags.Where(bag => bag.Lot == lot)) bag.Lot = changed;
            plot.Faults.Add(new PlantedFault(contribution.Id, "lot", lot.LotId, "lot-disagreement",
                "the hydrolysable fraction differs by 0.012 from that of the same lot in every other contribution"));
        }
    }
}
