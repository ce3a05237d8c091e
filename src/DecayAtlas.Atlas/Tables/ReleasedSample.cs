namespace DecayAtlas.Atlas.Tables;

[Table("samples", "One row a sample taken from a bag and studied for its microbes: the results sent, beside k and S of the burial its bag "
    + "lay in. MIxS names the open standard for sequence samples.")]
public sealed record ReleasedSample
{
    [Column("contribution_id", "Contribution of the sample.", IsKey = true)]
    public required string ContributionId { get; init; }

    [Column("sample_id", "Id of the sample in its contribution (MIxS samp_name, MIXS:0001107).", IsKey = true)]
    public required string SampleId { get; init; }

    [Column("bag_id", "The bag it was taken from.")]
    public required string BagId { get; init; }

    [Column("burial_id", "Burial of the bag.")]
    public required string BurialId { get; init; }

    [Column("site_key", "Site the bag lay at.")]
    public required string SiteKey { get; init; }

    [Column("campaign", "Campaign (close to MIxS project_name, MIXS:0000092).")]
    public required string Campaign { get; init; }

    [Column("plot", "Plot within the site.")]
    public string? Plot { get; init; }

    [Column("treatment", "Treatment of the plot.")]
    public string? Treatment { get; init; }

    [Column("role", "fast or slow: the litter of the bag.")]
    public required string Role { get; init; }

    [Column("retrieved_on", "Retrieval date of the bag (close to MIxS collection_date, MIXS:0000011).")]
    public DateOnly? RetrievedOn { get; init; }

    [Column("depth_cm", "Burial depth of the bag (MIxS depth, MIXS:0000018, there in metres).", "cm")]
    public double? DepthCentimetres { get; init; }

    [Column("elevation_m", "Elevation of the site as stated (MIxS elev, MIXS:0000093); not published for a site marked sensitive.", "m")]
    public double? ElevationMetres { get; init; }

    [Column("k_per_day", "Decay rate k of the burial; where it is missing, burials says why.", "d-1")]
    public double? RatePerDay { get; init; }

    [Column("k_u_per_day", "Combined standard uncertainty of k.", "d-1")]
    public double? RateUncertaintyPerDay { get; init; }

    [Column("s", "Stabilisation factor S of the burial; where it is missing, burials says why.", "1")]
    public double? Stabilisation { get; init; }

    [Column("s_u", "Combined standard uncertainty of S.", "1")]
    public double? StabilisationUncertainty { get; init; }

    [Column("use", "Use of the burial: accepted, suspect or rejected.")]
    public required string Use { get; init; }

    [Column("target_gene", "Gene or locus that was sequenced or counted (MIxS target_gene, MIXS:0000044).")]
    public string? TargetGene { get; init; }

    [Column("target_subfragment", "Part of the gene or locus (MIxS target_subfragment, MIXS:0000045).")]
    public string? TargetSubfragment { get; init; }

    [Column("accession", "Accession in a public sequence archive; not published for a site marked sensitive, as its record names the "
        + "place.")]
    public string? Accession { get; init; }

    [Column("archive", "The archive; not published for a site marked sensitive.")]
    public string? Archive { get; init; }

    [Column("richness", "Number of taxa, as diversity_method counts them.", "taxa")]
    public double? Richness { get; init; }

    [Column("shannon_index_nat", "Shannon index of the same taxa, natural logarithm.", "nat")]
    public double? ShannonIndexNat { get; init; }

    [Column("diversity_method", "What counts as a taxon, and how many reads were drawn, in the contributor's words; "
        + "not published for a site marked sensitive.")]
    public string? DiversityMethod { get; init; }

    [Column("gene_copies_per_g_dry", "Copies of the target gene in a gram of retrieved dry litter.", "copies per g dry litter")]
    public double? GeneCopiesPerGramDry { get; init; }

    [Column("gene_copies_per_g_moist", "Copies of the target gene in a gram of retrieved moist litter, where a dry gram is not known.",
        "copies per g moist litter")]
    public double? GeneCopiesPerGramMoist { get; init; }

    [Column("gene_copies_method", "How copies were counted, in the contributor's words; not published for a site marked sensitive.")]
    public string? GeneCopiesMethod { get; init; }

    [Column("fungi_to_bacteria_ratio", "Fungi over bacteria, in what fungi_to_bacteria_method counts.", "1")]
    public double? FungiToBacteriaRatio { get; init; }

    [Column("fungi_to_bacteria_method", "What was divided by what, in the contributor's words; not published for a site marked sensitive.")]
    public string? FungiToBacteriaMethod { get; init; }

    /// <param name="row">The sample as sent.</param>
    /// <param name="bag">The bag it was taken from.</param>
    /// <param name="burial">The burial of that bag.</param>
    /// <param name="site">The site of that bag: a sensitive one hides its elevation, the accession whose record would name it, and
    /// texts of the sender's own.</param>
    /// <param name="verdict">On the burial.</param>
    public static ReleasedSample Of(SampleRow row, Bag bag, Burial burial, Site site, Verdict verdict) => new()
    {
        ContributionId = bag.Header.ContributionId,
        SampleId = row.SampleId,
        BagId = row.BagId,
        BurialId = burial.BurialId,
        SiteKey = bag.SiteKey,
        Campaign = bag.Header.Campaign,
        Plot = bag.Row.Plot,
        Treatment = bag.Row.Treatment,
        Role = AtlasCode.Of(bag.Row.Role),
        RetrievedOn = bag.Row.RetrievedOn,
        DepthCentimetres = bag.Row.DepthCentimetres,
        ElevationMetres = site.Place.IsSensitive ? null : site.Row.ElevationMetres,
        RatePerDay = burial.RatePerDay.Value?.Value,
        RateUncertaintyPerDay = burial.RatePerDay.Value?.Uncertainty,
        Stabilisation = burial.StabilisationFactor.Value?.Value,
        StabilisationUncertainty = burial.StabilisationFactor.Value?.Uncertainty,
        Use = AtlasCode.Of(verdict.Use),
        TargetGene = row.TargetGene,
        TargetSubfragment = row.TargetSubfragment,
        Accession = site.Place.IsSensitive ? null : row.Accession,
        Archive = site.Place.IsSensitive ? null : row.Archive,
        Richness = row.Richness,
        ShannonIndexNat = row.ShannonIndexNat,
        DiversityMethod = site.Place.IsSensitive ? null : row.DiversityMethod,
        GeneCopiesPerGramDry = row.GeneCopiesPerGramDry,
        GeneCopiesPerGramMoist = row.GeneCopiesPerGramMoist,
        GeneCopiesMethod = site.Place.IsSensitive ? null : row.GeneCopiesMethod,
        FungiToBacteriaRatio = row.FungiToBacteriaRatio,
        FungiToBacteriaMethod = site.Place.IsSensitive ? null : row.FungiToBacteriaMethod,
    };
}
