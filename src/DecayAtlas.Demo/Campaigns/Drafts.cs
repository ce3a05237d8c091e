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

    public required string CountryCode { get; set; }

    public required string Ecosystem { get; init; }

    public required string LandUse { get; init; }

    public required string Management { get; init; }

    public double? ElevationMetres { get; set; }

    /// <summary>What is true of the site: ln k and S with the site's own effect.</summary>
    public double TrueLnRate { get; init; }

    public double TrueStabilisation { get; init; }

    public double ExpectedLnRate { get; init; }
}

/// <summary>A lot; without ash and tare where its sheet gives the hydrolysable fraction only.</summary>
internal sealed record LotDraft(
    string LotId, LitterRole Role, double Hydrolysable, double HydrolysableSd, double? Ash = null, double? TareGrams = null);

internal sealed record BagDraft(string BagId, LitterRole Role, MassBasis Basis)
{
    public required LotDraft Lot { get; set; }

    public double InitialGrams { get; set; }

    public double? FinalGrams { get; set; }

    public string Drying { get; set; } = "oven";

    public double? DryingCelsius { get; set; } = 60;

    public double? AshFraction { get; set; }

    public DateOnly BuriedOn { get; set; }

    public DateOnly? RetrievedOn { get; set; }

    public double DepthCentimetres { get; set; }

    public string Condition { get; set; } = "intact";

    public bool Unused { get; set; } = true;

    public double ResolutionGrams { get; set; }

    public bool StatesResolution { get; set; } = true;

    public string Notes { get; set; } = "";

    /// <summary>Decimals the masses are written with.</summary>
    public int MassDecimals => ResolutionGrams switch { < 0.01 => 3, < 0.1 => 2, _ => 1 };

    public int? Days => RetrievedOn?.DayNumber - BuriedOn.DayNumber;

    /// <summary>What of the masses is the empty bag; not a number where the lot does not say.</summary>
    public double TareGrams => Basis == MassBasis.Gross ? Lot.TareGrams ?? double.NaN : 0;

    /// <summary>Remaining over initial litter mass as a reader of the tables would compute it.</summary>
    public double Remaining
    {
        get
        {
            double w = ((FinalGrams ?? double.NaN) - TareGrams) / (InitialGrams - TareGrams);
            return AshFraction is { } ash && Lot.Ash is { } lotAsh ? w * (1 - ash) / (1 - lotAsh) : w;
        }
    }

    /// <summary>How far the bag was filled beside its nominal mass, in grams.</summary>
    public double OffNominalGrams => Math.Abs(InitialGrams - TareGrams - StandardLots.NominalGrams);

    /// <summary>A mass as the balance shows it.</summary>
    public double Shown(double grams) => Math.Round(Math.Round(grams / ResolutionGrams) * ResolutionGrams, MassDecimals);

    public void SetRemaining(double fraction) => FinalGrams = Shown(TareGrams + (fraction * (InitialGrams - TareGrams)));
}

/// <summary>The two bags of one hole.</summary>
internal sealed record BurialDraft(
    ContributionDraft Contribution, string BurialId, string SiteId, int Replicate, string Plot, string Treatment,
    BagDraft Fast, BagDraft Slow)
{
    public bool FastIsLeftOut { get; set; }

    public IEnumerable<BagDraft> Bags => FastIsLeftOut ? [Slow] : [Fast, Slow];
}

internal sealed record SampleDraft(string BagId, string Accession, string Marker);

internal sealed record ContributionDraft(Contributor Contributor, CampaignPlan Campaign)
{
    public string Id => $"{Campaign.Id}-{Contributor.Id}";

    public bool AsZip { get; set; }

    public List<SiteDraft> Sites { get; } = [];

    public List<LotDraft> Lots { get; } = [];

    public List<BurialDraft> Burials { get; } = [];

    public List<SampleDraft> Samples { get; } = [];

    public IEnumerable<BagDraft> Bags => Burials.SelectMany(burial => burial.Bags);

    public IEnumerable<BurialDraft> At(string siteId) => Burials.Where(burial => burial.SiteId == siteId);
}
