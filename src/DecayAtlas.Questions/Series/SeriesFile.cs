namespace DecayAtlas.Questions.Series;

/// <summary>
/// Exposures as one NetCDF-4 file by the CF conventions 1.11, chapter 9: discrete sampling geometries, feature type timeSeries, contiguous
/// ragged arrays. A series is a site; its time is the end of the exposure, with the whole exposure as bounds.
/// </summary>
public static class SeriesFile
{
    private const string SiteDimension = "site", ExposureDimension = "obs";

    private static readonly DateOnly Epoch = new(1970, 1, 1);

    private static readonly string[] OfSite = [SiteDimension], OfExposure = [ExposureDimension], OfBounds = [ExposureDimension, "nv"];

    private static readonly string[] Uses = [AtlasCode.Of(Use.Suspect), AtlasCode.Of(Use.Accepted)];

    private static readonly sbyte[] NoOrYes = [0, 1];

    /// <param name="about">What the file says of itself, such as title and source.</param>
    /// <exception cref="GridException">The file can't be written.</exception>
    public static void Write(
        string path, ExposureSeries series, IReadOnlyList<SeriesQuantity> quantities, IReadOnlyDictionary<string, string> about)
    {
        ArgumentNullException.ThrowIfNull(series);
        ArgumentNullException.ThrowIfNull(quantities);
        ArgumentNullException.ThrowIfNull(about);
        ReleasedSite[] sites = [.. series.Sites.Select(s => s.Site)];
        WeighedExposure[] exposures = [.. series.Sites.SelectMany(s => s.Exposures)];
        NetCdfColumn[] own =
        [
            .. SitesOf(series, sites), .. TimesOf(exposures), .. LitterOf("fast", e => e.Fast, exposures),
            .. LitterOf("slow", e => e.Slow, exposures),
        ];
        HashSet<string> taken = [.. own.Select(c => c.Name), SiteDimension, ExposureDimension];
        NetCdfColumn[] grids = [.. quantities.OrderBy(q => q.Name, StringComparer.Ordinal)
            .SelectMany(q => GridsOf(q, series, sites, exposures))
            .Select(c => taken.Contains(c.Name) ? c with { Name = c.Name + "_of_grids" } : c)];
        NetCdfColumns.Write(path, [(SiteDimension, sites.Length), (ExposureDimension, exposures.Length), ("nv", 2)], [.. own, .. grids],
            [("Conventions", "CF-1.11"), ("featureType", "timeSeries"),
                .. about.OrderBy(a => a.Key, StringComparer.Ordinal).Select(a => (a.Key, (object)a.Value))]);
    }

    private static IEnumerable<NetCdfColumn> SitesOf(ExposureSeries series, ReleasedSite[] sites) =>
    [
        Column("site_key", OfSite, sites.Select(s => s.SiteKey).ToArray(), ("cf_role", "timeseries_id"), ("long_name", "site")),
        Column("lat", OfSite, Numbers(sites.Select(s => s.LatitudeDegrees)), ("standard_name", "latitude"), ("units", "degrees_north"),
            ("long_name", "published latitude, WGS 84")),
        Column("lon", OfSite, Numbers(sites.Select(s => s.LongitudeDegrees)), ("standard_name", "longitude"), ("units", "degrees_east"),
            ("long_name", "published longitude, WGS 84")),
        Column("coordinate_uncertainty", OfSite, Numbers(sites.Select(s => s.CoordinateUncertaintyMetres)), ("units", "m"),
            ("long_name", "radius that holds the true place")),
        Flag("coordinates_generalised", OfSite, sites.Select(s => (bool?)s.IsGeneralised),
            "whether the place is the centre of a cell of 0.1 degrees that hides a sensitive site"),
        Column("ecosystem", OfSite, sites.Select(s => s.Ecosystem ?? "").ToArray(), ("long_name", "ecosystem")),
        Column("land_use", OfSite, sites.Select(s => s.LandUse ?? "").ToArray(), ("long_name", "land use")),
        Column("management", OfSite, sites.Select(s => s.Management ?? "").ToArray(), ("long_name", "management")),
        Column("row_size", OfSite, series.Sites.Select(s => s.Exposures.Count).ToArray(), ("sample_dimension", ExposureDimension),
            ("long_name", "exposures of the site, which follow one another")),
    ];

    private static IEnumerable<NetCdfColumn> TimesOf(WeighedExposure[] exposures) =>
    [
        Column("time", OfExposure, Numbers(exposures.Select(e => (double?)Day(e.Burial.RetrievedOn!.Value))), ("standard_name", "time"),
            ("units", "days since 1970-01-01"), ("calendar", "standard"), ("bounds", "time_bounds"), ("long_name", "end of the exposure")),
        Column("time_bounds", OfBounds,
            exposures.SelectMany(e => (double[])[Day(e.Burial.BuriedOn), Day(e.Burial.RetrievedOn!.Value)]).ToArray()),
        Column("depth", OfExposure, Numbers(exposures.Select(e => e.Burial.DepthCentimetres)), ("standard_name", "depth"), ("units", "cm"),
            ("positive", "down"), ("long_name", "depth of the bags")),
        Column("contribution_id", OfExposure, exposures.Select(e => e.Burial.ContributionId).ToArray(), ("long_name", "contribution")),
        Column("burial_id", OfExposure, exposures.Select(e => e.Burial.BurialId).ToArray(),
            ("long_name", "burial, unique with its contribution")),
        Column("campaign", OfExposure, exposures.Select(e => e.Burial.Campaign).ToArray(), ("long_name", "campaign")),
        Column("plot", OfExposure, exposures.Select(e => e.Burial.Plot ?? "").ToArray(), ("long_name", "plot within the site")),
        Column("treatment", OfExposure, exposures.Select(e => e.Burial.Treatment ?? "").ToArray(),
            ("long_name", "treatment of the plot; grids know nothing of it")),
        Column("use", OfExposure, exposures.Select(e => (sbyte)Array.IndexOf(Uses, e.Burial.Use)).ToArray(), ("flag_values", NoOrYes),
            ("flag_meanings", string.Join(' ', Uses)), ("long_name", "what may be done with the burial")),
    ];

    private static IEnumerable<NetCdfColumn> LitterOf(string litter, Func<WeighedExposure, ReleasedBag?> bagOf, WeighedExposure[] exposures)
    {
        string name = $"{litter}_remaining_fraction", error = $"{name}_standard_uncertainty";
        return
        [
            OfLitter(name, b => b.RemainingFraction, $"remaining over initial mass of the {litter} litter",
                ("ancillary_variables", $"{error} {error}_batch {error}_lot {litter}_ash_free {litter}_lot use")),
            OfLitter(error, b => Math.Sqrt(Squared(b.RemainingFractionUncertainty) + Squared(b.RemainingFractionUncertaintyBatch)
                + Squared(b.RemainingFractionUncertaintyLot)), $"combined standard uncertainty of {name}"),
            OfLitter($"{error}_batch", b => b.RemainingFractionUncertaintyBatch, "part of it that all bags of a batch share"),
            OfLitter($"{error}_lot", b => b.RemainingFractionUncertaintyLot, "part of it that all bags of a lot share"),
            Flag($"{litter}_ash_free", OfExposure, exposures.Select(e => bagOf(e)?.RemainingIsAshFree),
                $"whether {name} is on an ash-free basis"),
            Column($"{litter}_lot", OfExposure, exposures.Select(e => bagOf(e)?.LotId ?? "").ToArray(),
                ("long_name", $"lot of the {litter} litter; its chemistry is in the table lots")),
        ];

        NetCdfColumn OfLitter(string column, Func<ReleasedBag, double?> value, string longName, params (string, object)[] more) =>
            Column(column, OfExposure, Numbers(exposures.Select(e => bagOf(e) is { } bag ? value(bag) : null)),
                [("long_name", longName), ("units", "1"), ("coordinates", "time lat lon depth"), .. more]);
    }

    /// <summary>What the bags felt, or what is the same for every bag of a site.</summary>
    private static IEnumerable<NetCdfColumn> GridsOf(
        SeriesQuantity quantity, ExposureSeries series, ReleasedSite[] sites, WeighedExposure[] exposures)
    {
        ReleasedBurialCovariate?[] felt = [.. exposures.Select(e =>
            series.Felt.GetValueOrDefault((e.Burial.ContributionId, e.Burial.BurialId, quantity.Name)))];
        if (felt.FirstOrDefault(f => f is not null) is { } one)
        {
            (string, object)[] methods = quantity.Over switch
            {
                null => [],
                TimeStatistic.Mean => [("cell_methods", "time: mean")],
                _ => [("cell_methods", "time: sum")],
            };
            yield return Column(quantity.Name, OfExposure, Numbers(felt.Select(f => f?.Value)),
                [("long_name", quantity.Title), ("units", Units(one.Unit)), ("coordinates", "time lat lon depth"), .. methods]);
        }

        ReleasedCovariate?[] there = [.. sites.Select(s => series.Places.GetValueOrDefault((s.SiteKey, quantity.Name)))];
        if (there.FirstOrDefault(t => t is not null) is { } other)
        {
            yield return Column(quantity.Name, OfSite, Numbers(there.Select(t => t?.Value)),
                [("long_name", quantity.Title), ("units", Units(other.Unit)), ("coordinates", "lat lon")]);
        }
    }

    /// <summary>As UDUNITS has them, which CF asks for: pH is a pure number there.</summary>
    private static string Units(string unit) => unit.Trim() is "" or "pH" ? "1" : unit.Trim();

    private static double Day(DateOnly day) => day.DayNumber - Epoch.DayNumber;

    private static double Squared(double? value) => value * value ?? 0;

    private static double[] Numbers(IEnumerable<double?> values) => [.. values.Select(v => v ?? double.NaN)];

    private static NetCdfColumn Flag(string name, string[] dimension, IEnumerable<bool?> values, string longName) =>
        Column(name, dimension, values.Select(v => v is { } yes ? yes ? (sbyte)1 : (sbyte)0 : (sbyte)-1).ToArray(),
            ("long_name", longName), ("flag_values", (sbyte[])[-1, 0, 1]), ("flag_meanings", "unknown no yes"));

    private static NetCdfColumn Column(string name, string[] dimensions, Array values, params (string Name, object Value)[] attributes) =>
        new(name, dimensions, values, attributes);
}
