namespace DecayAtlas.Demo.Campaigns;

internal enum ContributorKind
{
    Laboratory,
    Farm,
    School,
    YouthGroup,
}

/// <summary>What a group does to the litter before the first weighing, and what it says of it.</summary>
internal enum LitterHandling
{
    OvenDried,

    /// <summary>Weighed as supplied, and so stated: the lot's sheet says how moist.</summary>
    AsSupplied,

    /// <summary>Dried in the air of a room, and the moisture of a subsample measured.</summary>
    AirDried,

    /// <summary>Oven-dried, and nothing said.</summary>
    UnspokenDried,

    /// <summary>Weighed as supplied, and nothing said.</summary>
    UnspokenAsSupplied,
}

/// <summary>How a group works: its balance, what it weighs, how many burials a site gets.</summary>
internal sealed record Contributor(string Id, string Title, ContributorKind Kind)
{
    public double ResolutionGrams { get; init; }

    public MassBasis Basis { get; init; }

    public bool MeasuresAsh { get; init; }

    public LitterHandling Handling { get; init; }

    public bool SaysHowItDried => Handling is not (LitterHandling.UnspokenDried or LitterHandling.UnspokenAsSupplied);

    public bool SequencesSamples { get; init; }

    public int SiteCount { get; init; }

    public int FewestBurials { get; init; }

    public int MostBurials { get; init; }

    /// <summary>Indices into <see cref="CampaignPlan.All"/>.</summary>
    public required IReadOnlyList<int> Campaigns { get; init; }

    /// <summary>How far from home the group's sites lie, in kilometres.</summary>
    public double ReachKilometres { get; init; }
}

/// <summary>The invented groups that take part. Nobody here exists.</summary>
internal static class Contributors
{
    private static readonly Contributor[] Groups =
    [
        .. Of(ContributorKind.Laboratory,
            ("westfold-soil-laboratory", "Westfold Soil Laboratory", [0, 1, 2]),
            ("vessany-ecology-institute", "Vessany Institute of Ecology", [0, 1]),
            ("torrel-forest-station", "Torrel Forest Station", [1, 2]),
            ("high-spine-observatory", "High Spine Observatory", [1]),
            ("lee-plains-research-farm", "Lee Plains Research Farm", [0, 1]),
            ("cinder-isle-laboratory", "Cinder Isle Laboratory", [1, 2]),
            ("southern-moors-centre", "Southern Moors Centre", [2]),
            ("harbour-university-soils", "Harbour University, Soil Group", [0])),
        .. Of(ContributorKind.Farm,
            ("alder-brook-farm", "Alder Brook Farm", [1, 2]),
            ("three-wells-farm", "Three Wells Farm", [1]),
            ("stonegate-holding", "Stonegate Holding", [0, 1]),
            ("long-meadow-growers", "Long Meadow Growers", [2]),
            ("windrow-cooperative", "Windrow Cooperative", [0]),
            ("ridge-end-orchards", "Ridge End Orchards", [1]),
            ("saltmarsh-grazing", "Saltmarsh Grazing", [1, 2]),
            ("lantern-hill-farm", "Lantern Hill Farm", [0, 2]),
            ("oatfield-trust", "Oatfield Trust", [2])),
        .. Of(ContributorKind.School,
            ("bayview-school", "Bayview School", [1]),
            ("northcape-secondary", "Northcape Secondary School", [0, 1]),
            ("old-mill-school", "Old Mill School", [2]),
            ("spineway-school", "Spineway School", [1]),
            ("ferry-road-primary", "Ferry Road Primary School", [1, 2]),
            ("torrel-garden-school", "Torrel Garden School", [0]),
            ("cinder-isle-school", "Cinder Isle School", [2]),
            ("greenbank-college", "Greenbank College", [1]),
            ("quarry-lane-school", "Quarry Lane School", [0])),
        .. Of(ContributorKind.YouthGroup,
            ("curlew-youth-group", "Curlew Youth Group", [1]),
            ("tidewatch-juniors", "Tidewatch Juniors", [2]),
            ("fernhill-explorers", "Fernhill Explorers", [0, 1]),
            ("little-islands-club", "Little Islands Club", [1]),
            ("south-head-rovers", "South Head Rovers", [2]),
            ("mossy-bridge-club", "Mossy Bridge Club", [0])),
    ];

    public static IReadOnlyList<Contributor> All { get; } = [.. Groups.Select(Equipped)];

    private static IEnumerable<Contributor> Of(ContributorKind kind, params (string Id, string Title, int[] Campaigns)[] groups) =>
        groups.Select(group => new Contributor(group.Id, group.Title, kind) { Campaigns = group.Campaigns });

    private static Contributor Equipped(Contributor contributor, int place) => contributor.Kind switch
    {
        ContributorKind.Laboratory => contributor with
        {
            ResolutionGrams = 0.001,
            Basis = place % 3 == 1 ? MassBasis.Litter : MassBasis.Gross,
            MeasuresAsh = place % 2 == 0,
            SequencesSamples = place is 0 or 3,
            SiteCount = 9 + (place % 3),
            FewestBurials = 4,
            MostBurials = 8,
            ReachKilometres = 95,
        },
        ContributorKind.Farm => contributor with
        {
            ResolutionGrams = 0.01,
            Basis = place % 4 == 3 ? MassBasis.Litter : MassBasis.Gross,
            MeasuresAsh = place == 13,
            Handling = place % 2 == 0 ? LitterHandling.AsSupplied : LitterHandling.AirDried,
            SiteCount = 6 + (place % 3),
            FewestBurials = 4,
            MostBurials = 6,
            ReachKilometres = 30,
        },
        ContributorKind.School => contributor with
        {
            ResolutionGrams = place % 3 == 0 ? 0.02 : 0.01,
            Basis = MassBasis.Gross,
            Handling = (place % 3) switch
            {
                0 => LitterHandling.UnspokenAsSupplied,
                1 => LitterHandling.OvenDried,
                _ => LitterHandling.AsSupplied,
            },
            SiteCount = 5 + (place % 3),
            FewestBurials = 3,
            MostBurials = 5,
            ReachKilometres = 25,
        },
        _ => contributor with
        {
            ResolutionGrams = 0.05,
            Basis = MassBasis.Gross,
            Handling = (place % 3) switch
            {
                0 => LitterHandling.UnspokenDried,
                1 => LitterHandling.AsSupplied,
                _ => LitterHandling.OvenDried,
            },
            SiteCount = 4 + (place % 3),
            FewestBurials = 2,
            MostBurials = 3,
            ReachKilometres = 35,
        },
    };
}
