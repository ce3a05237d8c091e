namespace DecayAtlas.Demo.Faults;

/// <summary>Positions that cannot be right, or cannot be used.</summary>
internal sealed class PlaceFaults(FaultPlot plot, InventedWorld world, Countries countries)
{
    public void Plant()
    {
        Nowhere("coordinates-impossible", "latitude typed without its decimal point's place: -139.x instead of -39.x",
            site => site.LatitudeDegrees -= 100);
        Nowhere("coordinates-impossible", "longitude of -230.x instead of -30.x", site => site.LongitudeDegrees -= 200);
        FaultPlot.Times(2, () => Nowhere("coordinates-zero", "latitude and longitude are both 0, where an empty cell was meant",
            site => (site.LatitudeDegrees, site.LongitudeDegrees) = (0, 0)));
        FaultPlot.Times(2, () => Nowhere("coordinates-swapped", "latitude and longitude were exchanged",
            site => (site.LatitudeDegrees, site.LongitudeDegrees) = (site.LongitudeDegrees, site.LatitudeDegrees)));
        FaultPlot.Times(2, () => Spoil("coordinates-coarse", "the position is known to 30 km only", Blur,
            site => world.IsInland(site.LongitudeDegrees, site.LatitudeDegrees, 0.1) && DegreesFromBorder(site) > 0.25));
        FaultPlot.Times(3, () => Spoil("coordinates-unstated", "the coordinate uncertainty was left empty",
            site => site.UncertaintyMetres = null));
        FaultPlot.Times(2, Moved);
        // Without a country there is nothing for the position to be far from: this fault is of the covariates alone.
        FaultPlot.Times(2, () => Spoil("covariate-missing", "the position lies in the open sea, at least 20 km from any land cell",
            site => (site.LongitudeDegrees, site.LatitudeDegrees, site.CountryCode, site.ElevationMetres) =
                (Offshore(site)!.Value.X, Offshore(site)!.Value.Y, "", null),
            site => Offshore(site) is not null));
        FaultPlot.Times(2, () => Spoil("far-from-country",
            "the stated country is the other one, whose nearest shore is tens of kilometres away",
            site => site.CountryCode = site.CountryCode == Countries.North ? Countries.South : Countries.North,
            site => DegreesFromBorder(site) > 1.2));
    }

    /// <summary>Words of groups' own that the scenario's mapping of words does not have, in groups that came once only: of a group that
    /// came twice the site is as its newest contribution says.</summary>
    public static void PlantStrangeWords(FaultPlot plot) => FaultPlot.Times(2, () =>
    {
        (ContributionDraft contribution, SiteDraft site) =
            plot.TakeSite((c, s) => c.Contributor.Kind == ContributorKind.Farm && c.Contributor.Campaigns.Count == 1
                && s.LandUse == "arable");
        site.Management = "moonwise";
        plot.Site(contribution, site, "word-unmapped", "the management is a word of the group's own that nobody mapped");
    });

    // In a group that came once only: a spoiled position of a group that came twice would also be a moved site.
    private (ContributionDraft Contribution, SiteDraft Site) Spoil(
        string code, string what, Action<SiteDraft> spoil, Func<SiteDraft, bool>? fits = null)
    {
        (ContributionDraft contribution, SiteDraft site) =
            plot.TakeSite((c, s) => c.Contributor.Campaigns.Count == 1 && (fits is null || fits(s)));
        spoil(site);
        plot.Site(contribution, site, code, what);
        return (contribution, site);
    }

    private void Nowhere(string code, string what, Action<SiteDraft> spoil)
    {
        (ContributionDraft contribution, SiteDraft site) = Spoil(code, what, spoil);
        plot.Site(contribution, site, "covariate-missing", "no grid reaches that position", code);
        plot.Site(contribution, site, "far-from-country", "that position is far from the stated country", code);
    }

    private static void Blur(SiteDraft site)
    {
        (site.LatitudeDegrees, site.LongitudeDegrees) = (Math.Round(site.LatitudeDegrees, 1), Math.Round(site.LongitudeDegrees, 1));
        (site.CoordinateDecimals, site.UncertaintyMetres) = (1, 30000);
    }

    private double DegreesFromBorder(SiteDraft site) => countries.DegreesFromBorder(site.LongitudeDegrees, site.LatitudeDegrees);

    private void Moved()
    {
        (ContributionDraft contribution, SiteDraft site) = plot.TakeSite((c, s) =>
            c.Contributor.Campaigns.Count == 2 && c.Campaign == CampaignPlan.All[c.Contributor.Campaigns[^1]] && Aside(s) is not null);
        (site.LongitudeDegrees, site.LatitudeDegrees) = Aside(site)!.Value;
        plot.Site(contribution, site, "site-moved",
            "the position differs by about 16 km from that of the same site in the group's earlier campaign");

        ContributionDraft earlier =
            plot.Contributions.First(other => other.Contributor == contribution.Contributor && other != contribution);
        plot.Reserve(earlier, site.SiteId);
        plot.Site(earlier, site, "site-moved", "the same site was reported elsewhere in the group's later campaign", "site-moved");
    }

    /// <summary>A place on the same country's land, far enough to be another one.</summary>
    private (double X, double Y)? Aside(SiteDraft site) =>
        FirstOf(site, [(0.14, 0.10), (-0.14, 0.10), (0.14, -0.10), (-0.14, -0.10)], (x, y) => world.IsInland(x, y, 0.05)
            && countries.CodeOf(x, y) == site.CountryCode && countries.DegreesFromBorder(x, y) > 0.1);

    private (double X, double Y)? Offshore(SiteDraft site)
    {
        List<(double, double)> ways = [];
        foreach ((int dx, int dy) in new[] { (-1, 0), (1, 0), (0, -1), (0, 1) })
            for (double far = 0.4; far < 1.5; far += 0.1) ways.Add((dx * far, dy * far));

        return FirstOf(site, ways, IsOpenSea);
    }

    private static (double X, double Y)? FirstOf(
        SiteDraft site, IEnumerable<(double X, double Y)> ways, Func<double, double, bool> fits) =>
        ways.Select(way => (X: Math.Round(site.LongitudeDegrees + way.X, 5), Y: Math.Round(site.LatitudeDegrees + way.Y, 5)))
            .Where(place => fits(place.X, place.Y)).Cast<(double, double)?>().FirstOrDefault();

    private bool IsOpenSea(double longitude, double latitude) =>
        longitude is >= InventedRegion.WestDegrees + 0.1 and <= InventedRegion.EastDegrees - 0.1
        && latitude is >= InventedRegion.SouthDegrees + 0.1 and <= InventedRegion.NorthDegrees - 0.1
        && InventedRegion.Around(longitude, latitude, 0.27).All(place => !world.IsLand(place.Longitude, place.Latitude));
}
