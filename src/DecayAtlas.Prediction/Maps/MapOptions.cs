namespace DecayAtlas.Prediction.Maps;

/// <summary>What a map shows and how its cells lie.</summary>
/// <param name="Sites">Training sites to draw as dots; leave out those whose coordinates are sensitive.</param>
public sealed record MapOptions(string Title, IReadOnlyList<GeoPoint> Sites)
{
    public MapRegion Region { get; init; } = MapRegion.Whole;

    /// <summary>A code or well-known text; null keeps that of the finest grid.</summary>
    public string? Crs { get; init; }

    /// <summary>In the unit of the reference system; null keeps the cells of the finest grid.</summary>
    public double? CellSize { get; init; }

    /// <summary>Season and depth that the map is for; needed where a covariate depends on them.</summary>
    public BurialConditions Conditions { get; init; } = BurialConditions.None;

    /// <summary>When what the model learnt from was measured; missing where nobody says.</summary>
    public MeasuredTimes? Measured { get; init; }

    /// <summary>How classes come to places; needed where sites state them. A difference has those of its sides.</summary>
    public ClassChoices Choices { get; init; } = ClassChoices.None;

    /// <summary>When it was measured and which season and depth it is for; empty where neither is said.</summary>
    internal string TimesInWords => string.Join(" · ",
    [
        .. new[] { Measured?.Sentence() }.OfType<string>(),
        .. Conditions.Exposure is { } days
            ? [$"mapped for bags buried {days.BuriedOn:yyyy-MM-dd} to {days.RetrievedOn:yyyy-MM-dd}"] : Array.Empty<string>(),
        .. Conditions.DepthCentimetres is { } depth ? [Invariant($"at {depth:0.#} cm depth")] : Array.Empty<string>(),
    ]);
}

/// <summary>The campaigns of what a model learnt from, and the days from the first burial to the last retrieval.</summary>
public sealed record MeasuredTimes(IReadOnlyList<string> Campaigns, DateOnly First, DateOnly Last)
{
    private const int MostNamed = 4;

    /// <summary>Missing for no rows.</summary>
    public static MeasuredTimes? Of(IReadOnlyList<TrainingRow> rows) => rows.Count == 0 ? null
        : new([.. rows.GroupBy(r => r.Campaign).OrderBy(c => c.Min(r => r.FirstBuriedOn)).ThenBy(c => c.Key, StringComparer.Ordinal)
            .Select(c => c.Key)], rows.Min(r => r.FirstBuriedOn), rows.Max(r => r.LastRetrievedOn));

    public string Sentence() =>
        $"Measured {First:yyyy-MM-dd} to {Last:yyyy-MM-dd} in "
        + (Campaigns.Count > MostNamed ? $"{Campaigns.Count} campaigns, {Campaigns[0]} to {Campaigns[^1]}"
            : (Campaigns.Count == 1 ? "campaign " : "campaigns ") + string.Join(", ", Campaigns));
}

/// <summary>The files of a map.</summary>
/// <param name="NetCdf">The same as NetCDF-4; null for none.</param>
public sealed record MapFiles(string Tif, string? NetCdf, string Png)
{
    internal IEnumerable<string> All => NetCdf is null ? [Tif, Png] : [Tif, NetCdf, Png];
}

/// <summary>What a map run did: cells, and areas on the ellipsoid.</summary>
/// <param name="Missing">Because a covariate is missing there or they lie outside the region.</param>
/// <param name="MeanRatePerDay">Over the predicted area, cells weighted by their area; null when there is none, and of a map of
/// S.</param>
public sealed record MapSummary(
    string ModelId,
    string Crs,
    GridLattice Lattice,
    IReadOnlyDictionary<string, string> Resampling,
    long Cells,
    long Predicted,
    long Missing,
    long Applicable,
    double PredictedSquareKilometres,
    double ApplicableSquareKilometres,
    double? MinimumRatePerDay,
    double? MeanRatePerDay,
    double? MaximumRatePerDay,
    bool ClippedToGrids)
{
    /// <summary>The class that every cell was taken for, by covariate; missing where none was chosen.</summary>
    public IReadOnlyDictionary<string, string>? AsIf { get; init; }

    /// <summary>The class grid that told what sites state, by covariate; missing where none did.</summary>
    public IReadOnlyDictionary<string, string>? FromGrid { get; init; }

    /// <summary>Cells without a prediction whose covariates are all there, but of a class that the model never saw, by "covariate: class";
    /// missing where there are none.</summary>
    public IReadOnlyDictionary<string, long>? UnseenClasses { get; init; }

    /// <summary>Of a map of S.</summary>
    public StabilisationRange? Stabilisation { get; init; }

    /// <summary>How far the map would be another without noted records; missing where the model rests on none, or could not be trained
    /// without.</summary>
    public MapShift? WithoutNoted { get; init; }
}

/// <summary>What S the cells of a map have. S may leave 0 to 1, and is not cut off.</summary>
/// <param name="Mean">Over the predicted area, cells weighted by their area.</param>
/// <param name="BelowZeroCells">Where the fast litter is predicted to lose more than the part of it that chemistry calls
/// decomposable.</param>
/// <param name="AboveOneCells">Where it is predicted to gain mass, which no litter does.</param>
public sealed record StabilisationRange(double Minimum, double Mean, double Maximum, long BelowZeroCells, long AboveOneCells)
{
    /// <summary>For readers of the map; missing where all cells lie within.</summary>
    public string? OutOfRangeSentence() => BelowZeroCells + AboveOneCells == 0 ? null
        : Invariant($"{BelowZeroCells} cells have S below 0 (more lost than the decomposable part by chemistry) and {AboveOneCells} ")
            + "above 1 (a gain of mass); they are shown as predicted.";
}

/// <summary>How far what is predicted without noted records lies from the map: for k the ratio of the two, or its inverse where that is
/// above 1, so that 1 is no difference; for S the difference without its sign.</summary>
/// <param name="Every">Cells from one that was asked to the next, in both directions.</param>
/// <param name="Cells">Cells that were asked and have a prediction.</param>
public sealed record MapShift(int Every, int Cells, double? MedianFactor, double? Factor95, double? LargestFactor)
{
    public double? MedianDifference { get; init; }

    public double? Difference95 { get; init; }

    public double? LargestDifference { get; init; }

    public string Sentence() => MedianFactor is not null
        ? Invariant($"without noted records k differs by a factor of {MedianFactor:0.000} (median), {Factor95:0.000} (95th percentile)")
        : Invariant($"without noted records S differs by {MedianDifference:0.000} (median), {Difference95:0.000} (95th percentile)");
}
