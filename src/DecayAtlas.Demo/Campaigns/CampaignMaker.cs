namespace DecayAtlas.Demo.Campaigns;

/// <summary>Makes every sound contribution: each group, in each campaign it took part in, at the same sites.</summary>
internal sealed class CampaignMaker(InventedWorld world, Countries countries, DecayResponse response, Random random)
{
    private readonly BurialMaker _burials = new(random);

    public List<ContributionDraft> MakeAll()
    {
        SitePlanner planner = new(world, countries, response, random);
        List<ContributionDraft> contributions = new();
        foreach (Contributor contributor in Contributors.All)
        {
            IReadOnlyList<SiteDraft> sites = planner.SitesFor(contributor);
            // A few groups keep a place to themselves: rare plants, or a child's home garden.
            if (contributor.Kind is ContributorKind.Laboratory or ContributorKind.YouthGroup && random.Next(2) == 0)
                sites[random.Next(sites.Count)].Sensitive = true;

            foreach (int campaign in contributor.Campaigns)
                contributions.Add(Make(contributor, campaign, sites));
        }

        for (int i = 0; i < contributions.Count; i++) contributions[i].AsZip = i % 5 == 2;
        return contributions;
    }

    private ContributionDraft Make(Contributor contributor, int campaignIndex, IReadOnlyList<SiteDraft> sites)
    {
        CampaignPlan campaign = CampaignPlan.All[campaignIndex];
        ContributionDraft contribution = new($"{campaign.Id}-{contributor.Id}", contributor, campaign);
        // The 2023 lots served 2023 only; of the 2024 lots a laboratory gets both, anyone else one pair.
        int[] lots = campaignIndex == 0 ? [0] : contributor.Kind == ContributorKind.Laboratory ? [1, 2] : [1 + (contributor.Id.Length % 2)];
        foreach (int lot in lots) contribution.Lots.Add(StandardLots.Fast[lot]);
        foreach (int lot in lots) contribution.Lots.Add(StandardLots.Slow[lot]);

        int start = random.Next(0, 25);
        foreach (SiteDraft site in sites)
        {
            contribution.Sites.Add(site with { });
            DateOnly buriedOn = campaign.FirstBurial.AddDays(start + random.Next(0, 5));
            int days = random.Next(83, 98);
            int count = random.Next(contributor.FewestBurials, contributor.MostBurials + 1);
            for (int number = 1; number <= count; number++)
            {
                int lot = lots[number % lots.Length];
                contribution.Burials
                    .Add(_burials.Make(contribution, site, number, StandardLots.Fast[lot], StandardLots.Slow[lot], buriedOn, days));
            }
        }

        if (contributor.SequencesSamples) AddSamples(contribution);
        return contribution;
    }

    private static void AddSamples(ContributionDraft contribution)
    {
        int serial = 0;
        foreach (BurialDraft burial in contribution.Burials.Where(burial => burial.BurialId.EndsWith("-1", StringComparison.Ordinal)))
        {
            foreach (string marker in new[] { "16S", "ITS2" })
            {
                contribution.Samples
                    .Add(new SampleDraft(
                        burial.Slow!.BagId, $"DEMO{contribution.Campaign.Mark}{contribution.Contributor.Id.Length:00}{++serial:0000}",
                        marker));
            }
        }
    }
}
