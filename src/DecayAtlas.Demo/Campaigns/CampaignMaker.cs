namespace DecayAtlas.Demo.Campaigns;

/// <summary>Makes every sound contribution: each group, in each campaign it took part in, at the same sites.</summary>
internal sealed class CampaignMaker(
    InventedWorld world, Countries countries, DecayResponse response, StandardLots standard, SampleMaker samples, Random random)
{
    private readonly BurialMaker _burials = new(random);

    public List<ContributionDraft> MakeAll()
    {
        SitePlanner planner = new(world, countries, response, random);
        List<ContributionDraft> contributions = [];
        foreach (Contributor contributor in Contributors.All)
        {
            List<SiteDraft> sites = planner.SitesFor(contributor);
            // A few groups keep a place to themselves: rare plants, or a child's home garden.
            if (contributor.Kind is ContributorKind.Laboratory or ContributorKind.YouthGroup && random.Next(2) == 0)
                sites[random.Next(sites.Count)].Sensitive = true;

            foreach (int campaign in contributor.Campaigns)
                contributions.Add(Make(contributor, campaign, sites));
        }

        for (int i = 2; i < contributions.Count; i += 5) contributions[i].AsZip = true;
        return contributions;
    }

    private ContributionDraft Make(Contributor contributor, int campaign, IEnumerable<SiteDraft> sites)
    {
        ContributionDraft contribution = new(contributor, CampaignPlan.All[campaign]);
        // The 2023 lots served 2023 only; of the 2024 lots a laboratory gets both, anyone else one pair.
        int[] lots = campaign == 0 ? [0] : contributor.Kind == ContributorKind.Laboratory ? [1, 2] : [1 + (contributor.Id.Length % 2)];
        contribution.Lots.AddRange([.. lots.Select(lot => standard.Fast[lot]), .. lots.Select(lot => standard.Slow[lot])]);

        int start = random.Next(0, 25);
        foreach (SiteDraft site in sites)
        {
            contribution.Sites.Add(site with { });
            DateOnly buriedOn = contribution.Campaign.FirstBurial.AddDays(start + random.Next(0, 5));
            int days = random.Next(83, 98);
            int count = random.Next(contributor.FewestBurials, contributor.MostBurials + 1);
            for (int number = 1; number <= count; number++)
            {
                int lot = lots[number % lots.Length];
                contribution.Burials
                    .Add(_burials.Make(contribution, site, number, standard.Fast[lot], standard.Slow[lot], buriedOn, days));
            }
        }

        if (contributor.SequencesSamples) samples.AddTo(contribution);
        return contribution;
    }
}
