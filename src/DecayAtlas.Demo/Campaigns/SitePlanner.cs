using MathNet.Numerics.Distributions;

namespace DecayAtlas.Demo.Campaigns;

/// <summary>Chooses where each group lives and buries, and what is true of every site.</summary>
internal sealed class SitePlanner(InventedWorld world, Countries countries, DecayResponse response, Random random)
{
    private const double SiteSpacingKilometres = 1.5, HomeSpacingKilometres = 14, BorderClearanceDegrees = 0.08;

    // Beyond these the slow litter would come too near its plateau, or its loss too near the weighing noise, in three months. What soil
    // and climate let expect is asked, never what is true of the site: sites chosen by their own k would bend every response.
    private const double LeastRatePerDay = 0.0030, MostRatePerDay = 0.021;
    private const double LeastStabilisation = 0.10, MostStabilisation = 0.46;

    // Groups whose name says where they live.
    private static readonly Dictionary<string, (double West, double South, double East, double North)> Homes = new(StringComparer.Ordinal)
    {
        ["vessany-ecology-institute"] = (-32.4, -39.3, -31.2, -37.9),
        ["high-spine-observatory"] = (-31.1, -41.6, -29.9, -38.6),
        ["saltmarsh-grazing"] = (-32.4, -39.4, -31.4, -38.0),
        ["tidewatch-juniors"] = (-31.8, -40.4, -30.6, -39.3),
        ["bayview-school"] = (-31.4, -40.9, -30.7, -39.9),
        ["curlew-youth-group"] = (-33.3, -41.4, -31.9, -40.0),
        ["cinder-isle-laboratory"] = (-27.6, -40.2, -25.6, -38.0),
        ["cinder-isle-school"] = (-27.6, -40.2, -25.6, -38.0),
        ["westfold-soil-laboratory"] = (-31.6, -41.0, -30.4, -38.0),
        ["lee-plains-research-farm"] = (-30.4, -40.0, -28.7, -38.3),
        ["northcape-secondary"] = (-32.5, -38.4, -29.5, -37.2),
        ["southern-moors-centre"] = (-31.0, -42.8, -29.0, -41.2),
        ["torrel-forest-station"] = (-31.0, -42.2, -29.8, -40.6),
        ["south-head-rovers"] = (-31.0, -42.9, -29.0, -41.8),
        ["little-islands-club"] = (-28.0, -42.9, -26.2, -41.2),
        ["torrel-garden-school"] = (-31.0, -42.8, -28.3, -40.8),
    };

    private static readonly (double West, double South, double East, double North) Anywhere =
        (InventedRegion.WestDegrees, InventedRegion.SouthDegrees, InventedRegion.EastDegrees, InventedRegion.NorthDegrees);

    private readonly List<(double Longitude, double Latitude)> _homes = [];
    private readonly List<(double Longitude, double Latitude)> _sites = [];

    public List<SiteDraft> SitesFor(Contributor contributor)
    {
        (double homeLongitude, double homeLatitude) = Home(contributor);
        List<SiteDraft> sites = [];
        // Only the laboratories climb into the cold; it is they who give the response its slow end.
        double highest = contributor.Kind == ContributorKind.Laboratory ? 2300 : 1500;
        double reachDegrees = contributor.ReachKilometres / InventedRegion.KilometresPerDegree;
        int lastFound = 0;
        for (int attempt = 0; sites.Count < contributor.SiteCount; attempt++)
        {
            // A laboratory lays out a transect: every third site high up, where there is high ground within reach.
            bool wantsHeight = contributor.Kind == ContributorKind.Laboratory && sites.Count % 3 == 2 && attempt - lastFound < 300;
            double lowest = wantsHeight ? 1000 : 0;
            // A crowded islet: look a little further out rather than fail.
            double reach = reachDegrees * (1 + (attempt / 400));
            double angle = 2 * Math.PI * random.NextDouble(), distance = reach * Math.Sqrt(random.NextDouble());
            double latitude = Math.Round(homeLatitude + (distance * Math.Sin(angle)), 5);
            double longitude = Math.Round(homeLongitude + (distance * Math.Cos(angle) / Math.Cos(homeLatitude * Math.PI / 180)), 5);
            double height = world.Elevation.At(longitude, latitude);
            if (!(height >= lowest && height < highest) || !IsFree(_sites, longitude, latitude, SiteSpacingKilometres)) continue;
            if (countries.CodeOf(longitude, latitude) != countries.CodeOf(homeLongitude, homeLatitude)) continue;
            if (countries.DegreesFromBorder(longitude, latitude) < BorderClearanceDegrees) continue;
            if (Describe(contributor, sites.Count + 1, longitude, latitude) is not { } site) continue;
            _sites.Add((longitude, latitude));
            sites.Add(site);
            lastFound = attempt;
        }

        return sites;
    }

    private (double Longitude, double Latitude) Home(Contributor contributor)
    {
        (double west, double south, double east, double north) = Homes.GetValueOrDefault(contributor.Id, Anywhere);
        for (int attempt = 0; ; attempt++)
        {
            // Under some seed the named corner may be all sea or all mountain: then anywhere will do.
            if (attempt == 4000) (west, south, east, north) = Anywhere;
            double longitude = west + ((east - west) * random.NextDouble());
            double latitude = south + ((north - south) * random.NextDouble());
            bool liveable = world.Elevation.At(longitude, latitude) < (contributor.Kind == ContributorKind.Laboratory ? 1300 : 600);
            double spacing = HomeSpacingKilometres / (1 + (attempt / 2000));
            if (!liveable || !IsFree(_homes, longitude, latitude, spacing) || countries.DegreesFromBorder(longitude, latitude) < 0.2)
                continue;
            _homes.Add((longitude, latitude));
            return (longitude, latitude);
        }
    }

    private SiteDraft? Describe(Contributor contributor, int number, double longitude, double latitude)
    {
        string ecosystem = Ecosystems.Names[(int)world.Ecosystem.At(longitude, latitude)];
        (string landUse, string management) = LandUse(contributor.Kind, ecosystem);
        double arable = landUse != "arable" ? 0
            : management == "organic" ? DecayResponse.OrganicArableEffect : DecayResponse.ConventionalArableEffect;
        double expected = response.LnRateAt(longitude, latitude), expectedStabilisation = response.StabilisationAt(longitude, latitude);
        if (Math.Exp(expected) is < LeastRatePerDay or > MostRatePerDay) return null;
        if (expectedStabilisation is < LeastStabilisation or > MostStabilisation) return null;
        if (WarmGround.ShareAt(longitude, latitude) > 0) return null;
        double lnRate = expected + arable + Normal.Sample(random, 0, DecayResponse.SiteSdLnRate);
        double stabilisation = expectedStabilisation + Normal.Sample(random, 0, DecayResponse.SiteSdStabilisation);

        return new SiteDraft($"S{number:00}")
        {
            LatitudeDegrees = latitude,
            LongitudeDegrees = longitude,
            UncertaintyMetres = contributor.Kind == ContributorKind.Laboratory ? random.Next(3, 11) : random.Next(2, 13) * 5,
            CountryCode = countries.CodeOf(longitude, latitude),
            Ecosystem = landUse is "garden" or "school-ground" or "park" ? "garden"
                : landUse is "arable" or "orchard" ? "cropland" : ecosystem,
            LandUse = landUse,
            Management = management,
            ElevationMetres = contributor.Kind is ContributorKind.Laboratory or ContributorKind.Farm
                ? Math.Round(world.Elevation.At(longitude, latitude)) : null,
            TrueLnRate = lnRate,
            TrueStabilisation = stabilisation,
            ExpectedLnRate = expected,
        };
    }

    private (string LandUse, string Management) LandUse(ContributorKind kind, string ecosystem)
    {
        string Pick(params string[] choices) => choices[random.Next(choices.Length)];
        return (kind, ecosystem) switch
        {
            (ContributorKind.Farm, _) =>
                (Pick("arable", "arable", "pasture", "meadow", "orchard", "fallow"), Pick("organic", "conventional")),
            (ContributorKind.School, _) => (Pick("school-ground", "garden", "park", "natural"), "none"),
            (_, "cropland") => ("arable", Pick("organic", "conventional")),
            (_, "forest" or "woodland") => (Pick("natural", "natural", "forestry"), "none"),
            (_, "grassland") => (Pick("natural", "pasture", "meadow"), "none"),
            _ => ("natural", "none"),
        };
    }

    private static bool IsFree(List<(double Longitude, double Latitude)> taken, double longitude, double latitude, double kilometres) =>
        taken.TrueForAll(place => InventedRegion.DistanceKilometres(place.Longitude, place.Latitude, longitude, latitude) >= kilometres);
}
