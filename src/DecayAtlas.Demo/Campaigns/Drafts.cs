namespace DecayAtlas.Demo.Campaigns;

// Drafts are the tables before they are written: mutable, because planting a fault is a deliberate spoiling of a sound row.

internal sealed record SiteDraft(string SiteId)
{
    public double LatitudeDegrees { get; set; }

    public double LongitudeDegrees { get; set; }

    /// <summary>Decimals written for the coordinates: five are about a metre.</summary>
    public int CoordinateDecimals { get; set; } = 5;

    public double? UncertaintyMetres { get; set; }

    public bool Sensitive { get; set; }

    public string CountryCode { get; set; } = "";

    public string Ecosystem { get; set; } = "";

    public string LandUse { get; set; } = "";

    public string Management { get; set; } = "";

    public double? ElevationMetres { get; set; }

    public string Notes { get; set; } = "";

    /// <summary>What is true of the site: ln k and S with the site's own effect.</summary>
    public double TrueLnRate { get; init; }

    public double TrueStabilisation { get; init; }

    public double ExpectedLnRate { get; init; }
}

internal sealed record LotDraft(string LotId, LitterRole Role, double Hydrolysable, double HydrolysableSd)
{
    public double? Ash { get; init; }

    public double? AshSd { get; init; }

    public double? NominalGrams { get; init; }

    public double? ToleranceGrams { get; init; }

    public double? TareGrams { get; init; }

    public double? TareSdGrams { get; init; }
}

internal sealed record BagDraft(string BagId, string BurialId, string SiteId, LitterRole Role)
{
    public string Plot { get; set; } = "";

    public int Replicate { get; set; }

    public string Treatment { get; set; } = "";

    public string LotId { get; set; } = "";

    public double? InitialGrams { get; set; }

    public double? FinalGrams { get; set; }

    public MassBasis Basis { get; set; }

    public string Drying { get; set; } = "oven";

    public double? DryingCelsius { get; set; } = 60;

    public double? AshFraction { get; set; }

    public DateOnly BuriedOn { get; set; }

    public DateOnly? RetrievedOn { get; set; }

    public double? DepthCentimetres { get; set; }

    public string Condition { get; set; } = "intact";

    public bool Unused { get; set; } = true;

    public double? ResolutionGrams { get; set; }

    /// <summary>Decimals the masses are written with; follows the balance.</summary>
    public int MassDecimals { get; set; }

    public string Notes { get; set; } = "";
}

/// <summary>The two bags of one hole; either may be absent once faults are planted.</summary>
internal sealed class BurialDraft(string burialId, string siteId, BagDraft fast, BagDraft slow)
{
    public string BurialId { get; } = burialId;

    public string SiteId { get; } = siteId;

    public BagDraft? Fast { get; set; } = fast;

    public BagDraft? Slow { get; set; } = slow;

    public IEnumerable<BagDraft> Bags => new[] { Fast, Slow }.OfType<BagDraft>();
}

internal sealed record SampleDraft(string BagId, string Accession, string Marker);

internal sealed class ContributionDraft(string id, Contributor contributor, CampaignPlan campaign)
{
    public string Id { get; } = id;

    public Contributor Contributor { get; } = contributor;

    public CampaignPlan Campaign { get; } = campaign;

    public bool AsZip { get; set; }

    public List<SiteDraft> Sites { get; } = [];

    public List<LotDraft> Lots { get; } = [];

    public List<BurialDraft> Burials { get; } = [];

    public List<SampleDraft> Samples { get; } = [];

    public IEnumerable<BagDraft> Bags => Burials.SelectMany(burial => burial.Bags);

    public LotDraft LotOf(BagDraft bag) => Lots.First(lot => lot.LotId == bag.LotId);
}
