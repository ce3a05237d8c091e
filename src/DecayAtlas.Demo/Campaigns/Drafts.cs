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

    public required string Management { get; set; }

    public double? ElevationMetres { get; set; }

    /// <summary>What is true of the site: ln k and S with the site's own effect.</summary>
    public double TrueLnRate { get; init; }

    public double TrueStabilisation { get; init; }

    public double ExpectedLnRate { get; init; }
}

/// <summary>A lot as its sheet states it; without ash and tare where the sheet gives the hydrolysable fraction only.</summary>
internal sealed record LotDraft(
    string LotId, LitterRole Role, double Hydrolysable, double HydrolysableSd, double? Ash = null, double? TareGrams = null)
{
    public bool IsAshFree { get; init; }

    /// <summary>Stated where the hydrolysable fraction leaves the non-polar extractives out.</summary>
    public double? Nonpolar { get; init; }

    public double? Water { get; init; }

    /// <summary>Missing where no bag was ever filled from it.</summary>
    public LotTruth? Truth { get; init; }
}

/// <summary>What a lot is made of: fractions of its organic matter, ash of its dry mass, water of its mass as supplied.</summary>
internal sealed record LotTruth(double Nonpolar, double WaterSoluble, double AcidSoluble, double Ash, double Water)
{
    /// <summary>What can decay of the organic matter: all but the acid-insoluble.</summary>
    public double Decomposable => Nonpolar + WaterSoluble + AcidSoluble;
}

internal sealed record BagDraft(string BagId, LitterRole Role, MassBasis Basis)
{
    public required LotDraft Lot { get; set; }

    public double InitialGrams { get; set; }

    public double? FinalGrams { get; set; }

    public string DryingInitial { get; set; } = "oven";

    public double? MoistureInitial { get; init; }

    /// <summary>The water that a reader of the tables takes off the first weighing, as a share of it.</summary>
    public double WaterTakenOff { get; set; }

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
            double w = ((FinalGrams ?? double.NaN) - TareGrams) / ((InitialGrams - TareGrams) * (1 - WaterTakenOff));
            return IsAshFree ? w * (1 - AshFraction!.Value) / (1 - Lot.Ash!.Value) : w;
        }
    }

    private bool IsAshFree => AshFraction is not null && Lot.Ash is not null;

    /// <summary>The hydrolysable fraction that goes with <see cref="Remaining"/>, from the lot's sheet.</summary>
    public double Hydrolysable
    {
        get
        {
            double stated = Lot.Hydrolysable + (Lot.Nonpolar ?? 0), organic = 1 - (Lot.Ash ?? 0);
            return IsAshFree == Lot.IsAshFree ? stated : IsAshFree ? stated / organic : stated * organic;
        }
    }

    /// <summary>How far the bag was filled beside its nominal mass, in grams.</summary>
    public double OffNominalGrams => Math.Abs(InitialGrams - TareGrams - StandardLots.NominalGrams);

    /// <summary>A mass as the balance shows it.</summary>
    public double Shown(double grams) => Math.Round(Math.Round(grams / ResolutionGrams) * ResolutionGrams, MassDecimals);

    public void SetRemaining(double fraction) =>
        FinalGrams = Shown(TareGrams + (fraction * (InitialGrams - TareGrams) * (1 - WaterTakenOff)));
}

/// <summary>The two bags of one hole.</summary>
internal sealed record BurialDraft(
    ContributionDraft Contribution, string BurialId, string SiteId, int Replicate, string Plot, string Treatment,
    BagDraft Fast, BagDraft Slow)
{
    public bool FastIsLeftOut { get; set; }

    /// <summary>How much of its plateau the fast litter has truly reached (1).</summary>
    public double TruePlateauShare { get; init; } = 1;

    public IEnumerable<BagDraft> Bags => FastIsLeftOut ? [Slow] : [Fast, Slow];
}

/// <summary>A sample of a bag: sequenced, counted, or both.</summary>
internal sealed record SampleDraft(string SampleId, string BagId, string TargetGene)
{
    public string? Accession { get; init; }

    public double? Richness { get; init; }

    public double? Shannon { get; init; }

    public double? GeneCopiesPerGramDry { get; init; }

    public double? FungiToBacteria { get; init; }
}

internal sealed record ContributionDraft(Contributor Contributor, CampaignPlan Campaign)
{
    public string Id => $"{Campaign.Id}-{Contributor.Id}";

    public bool AsZip { get; set; }

    public List<SiteDraft> Sites { get; } = [];

    public List<LotDraft> Lots { get; } = [];

    public List<BurialDraft> Burials { get; } = [];

    public List<SampleDraft> Samples { get; } = [];

    /// <summary>Means in place of bags.</summary>
    public List<ResultDraft> Results { get; } = [];

    public IEnumerable<BagDraft> Bags => Burials.SelectMany(burial => burial.Bags);

    public IEnumerable<BurialDraft> At(string siteId) => Burials.Where(burial => burial.SiteId == siteId);
}
