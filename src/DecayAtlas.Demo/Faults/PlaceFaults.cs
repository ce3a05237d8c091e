namespace DecayAtlas.Demo.Faults;

/// <summary>Positions that cannot be right, or cannot be used.</summary>
internal static class PlaceFaults
{
    public static void Plant(FaultPlot plot, InventedWorld world, Countries countries)
    {
        Impossible(plot, "latitude typed without its decimal point's place: -139.x instead of -39.x", site => site.LatitudeDegrees -= 100);
        Impossible(plot, "longitude of -230.x instead of -30.x", site => site.LongitudeDegrees -= 200);
        FaultPlot.Times(2, () => Zero(plot));
        FaultPlot.Times(2, () => Swapped(plot));
        FaultPlot.Times(2, () => Coarse(plot, world, countries));
        FaultPlot.Times(3, () => Unstated(plot));
        FaultPlot.Times(2, () => Moved(plot, world, countries));
        FaultPlot.Times(2, () => AtSea(plot, world));
        FaultPlot.Times(2, () => FarFromCountry(plot, countries));
    }

    // A group that came once only: a spoiled position of a group that came twice would also be a moved site.
    private static bool CameOnce(ContributionDraft contribution) => contribution.Contributor.Campaigns.Count == 1;

    private static void Impossible(FaultPlot plot, string what, Action<SiteDraft> spoil)
    {
        (ContributionDraft contribution, SiteDraft site) = plot.TakeSite((c, _) => CameOnce(c));
        spoil(site);
        plot.Site(contribution, site, "coordinates-impossible", what);
        NoPlaceAtAll(plot, contribution, site, "coordinates-impossible");
    }

    private static void Zero(FaultPlot plot)
    {
        (ContributionDraft contribution, SiteDraft site) = plot.TakeSite((c, _) => CameOnce(c));
        (site.LatitudeDegrees, site.LongitudeDegrees) = (0, 0);
        plot.Site(contribution, site, "coordinates-zero", "latitude and longitude are both 0, where an empty cell was meant");
        NoPlaceAtAll(plot, contribution, site, "coordinates-zero");
    }

    private static void Swapped(FaultPlot plot)
    {
        (ContributionDraft contribution, SiteDraft site) = plot.TakeSite((c, _) => CameOnce(c));
        (site.LatitudeDegrees, site.LongitudeDegrees) = (site.LongitudeDegrees, site.LatitudeDegrees);
        plot.Site(contribution, site, "coordinates-swapped", "latitude and longitude were exchanged");
        NoPlaceAtAll(plot, contribution, site, "coordinates-swapped");
    }

    private static void NoPlaceAtAll(FaultPlot plot, ContributionDraft contribution, SiteDraft site, string cause)
    {
        plot.Site(contribution, site, "covariate-missing", "no grid reaches that position", cause);
        plot.Site(contribution, site, "far-from-country", "that position is far from the stated country", cause);
    }

    private static void Coarse(FaultPlot plot, InventedWorld world, Countries countries)
    {
        (ContributionDraft contribution, SiteDraft site) = plot.TakeSite((c, s) => CameOnce(c)
            && world.IsInland(s.LongitudeDegrees, s.LatitudeDegrees, 0.1)
            && countries.DegreesFromBorder(s.LongitudeDegrees, s.LatitudeDegrees) > 0.25);
        (site.LatitudeDegrees, site.LongitudeDegrees) = (Math.Round(site.LatitudeDegrees, 1), Math.Round(site.LongitudeDegrees, 1));
        (site.CoordinateDecimals, site.UncertaintyMetres) = (1, 30000);
        plot.Site(contribution, site, "coordinates-coarse", "the position is known to 30 km only");
    }

    private static void Unstated(FaultPlot plot)
    {
        (ContributionDraft contribution, SiteDraft site) = plot.TakeSite((c, _) => CameOnce(c));
        site.UncertaintyMetres = null;
        plot.Site(contribution, site, "coordinates-unstated", "the coordinate uncertainty was left empty");
    }

    private static void Moved(FaultPlot plot, InventedWorld world, Countries countries)
    {
        (double dx, double dy)[] directions = [(0.14, 0.10), (-0.14, 0.10), (0.14, -0.10), (-0.14, -0.10)];
        (double X, double Y)? Way(SiteDraft site)
        {
            foreach ((double dx, double dy) in directions)
            {
                double longitude = Math.Round(site.LongitudeDegrees + dx, 5), latitude = Math.Round(site.LatitudeDegrees + dy, 5);
                if (world.IsInland(longitude, latitude, 0.05) && countries.CodeOf(longitude, latitude) == site.CountryCode
                    && countries.DegreesFromBorder(longitude, latitude) > 0.1)
                {
                    return (longitude, latitude);
                }
            }

            return null;
        }

        (ContributionDraft contribution, SiteDraft site) = plot.TakeSite((c, s) =>
            c.Contributor.Campaigns.Count == 2 && c.Campaign == CampaignPlan.All[c.Contributor.Campaigns[^1]] && Way(s) is not null);
        (site.LongitudeDegrees, site.LatitudeDegrees) = Way(site)!.Value;
        plot.Site(contribution, site, "site-moved",
            "the position differs by about 16 km from that of the same site in the group's earlier campaign");

        ContributionDraft earlier =
            plot.Contributions.First(other => other.Contributor == contribution.Contributor && other != contribution);
        plot.Reserve(earlier, site.SiteId);
        plot.Site(earlier, site, "site-moved", "the same site was reported elsewhere in the group's later campaign", "site-moved");
    }

    private static void AtSea(FaultPlot plot, InventedWorld world)
    {
        (double X, double Y)? Offshore(SiteDraft site)
        {
            foreach ((int dx, int dy) in new[] { (-1, 0), (1, 0), (0, -1), (0, 1) })
            {
                for (double far = 0.4; far < 1.5; far += 0.1)
                {
                    double longitude = Math.Round(site.LongitudeDegrees + (dx * far), 5),
                        latitude = Math.Round(site.LatitudeDegrees + (dy * far), 5);
                    if (IsOpenSea(world, longitude, latitude)) return (longitude, latitude);
                }
            }

            return null;
        }

        (ContributionDraft contribution, SiteDraft site) = plot.TakeSite((c, s) => CameOnce(c) && Offshore(s) is not null);
        (site.LongitudeDegrees, site.LatitudeDegrees) = Offshore(site)!.Value;
        // Without a country there is nothing for the position to be far from: this fault is of the covariates alone.
        (site.CountryCode, site.ElevationMetres) = ("", null);
        plot.Site(contribution, site, "covariate-missing", "the position lies in the open sea, at least 20 km from any land cell");
    }

    private static bool IsOpenSea(InventedWorld world, double longitude, double latitude)
    {
        const double clearance = 0.27;
        if (longitude is < InventedRegion.WestDegrees + 0.1 or > InventedRegion.EastDegrees - 0.1
            || latitude is < InventedRegion.SouthDegrees + 0.1 or > InventedRegion.NorthDegrees - 0.1)
        {
            return false;
        }

        for (double dy = -clearance; dy <= clearance; dy += InventedRegion.CellDegrees)
        {
            for (double dx = -clearance; dx <= clearance; dx += InventedRegion.CellDegrees)
                if (world.IsLand(longitude + dx, latitude + dy)) return false;
        }

        return true;
    }

    private static void FarFromCountry(FaultPlot plot, Countries countries)
    {
        (ContributionDraft contribution, SiteDraft site) = plot.TakeSite((c, s) =>
            CameOnce(c) && countries.DegreesFromBorder(s.LongitudeDegrees, s.LatitudeDegrees) > 1.2);
        site.CountryCode = site.CountryCode == Countries.North ? Countries.South : Countries.North;
        plot.Site(contribution, site, "far-from-country",
            "the stated country is the other one, whose nearest shore is tens of kilometres away");
    }
}
