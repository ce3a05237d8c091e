namespace DecayAtlas.Atlas.Covariates;

/// <summary>How a value was got from the grids: the columns that every table of covariates ends with.</summary>
public abstract record SampledRow
{
    [Column("value_sd",
        "Standard deviation of the values under the circle of the site's uncertainty; missing for rules other than disc, and for "
        + "several layers.", "see unit")]
    public double? StandardDeviation { get; init; }

    [Column("valid_share",
        "Share of that circle that lies on cells with a value, of several layers the smallest; missing for rules without a "
        + "circle.", "1")]
    public double? ValidShare { get; init; }

    [Column("covered_share",
        "Share of the bag's height, or of the days it was buried, that the layers describe; missing for a covariate of one "
        + "layer.", "1")]
    public double? CoveredShare { get; init; }

    [Column("unit", "Unit of the value.")]
    public string Unit { get; init; } = "";

    [Column("rule",
        "Sampling rule that was really used: nearest, bilinear, disc (mean over the circle of the site's uncertainty) or mode "
        + "(commonest class in it); several, where layers differ.")]
    public string Rule { get; init; } = "";

    [Column("status",
        "sampled; nearest-valid, when the nearest valid cell stood in; missing; outside, when a grid does not reach the site; "
        + "no-dates or no-depth, when the burial does not state what is needed; not-covered, when the layers do not describe half of "
        + "the bag or the series not every day; undefined, when the formula has no value there; withheld, for a site marked "
        + "sensitive, whose values would give its place away.")]
    public string Status { get; init; } = "";

    [Column("distance_m",
        "Ground distance from the site to the centre of the cell used, of several layers the largest; missing when interpolated or "
        + "withheld.", "m")]
    public double? DistanceMetres { get; init; }

    [Column("layers", "The layers used and the weight of each, for example month 5 x 0.133333; missing for a covariate of one layer.")]
    public string? Layers { get; init; }

    [Column("formula", "Formula, its source and its inputs, for a value computed from other covariates.")]
    public string? Formula { get; init; }

    [Column("grid_fingerprint",
        "SHA-256 of the grid file, or of one read over the network what stands for its bytes; of several, each once, joined by a space.")]
    public string GridFingerprint { get; init; } = "";
}
