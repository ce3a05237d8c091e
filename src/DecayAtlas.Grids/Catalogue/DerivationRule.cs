namespace DecayAtlas.Grids.Catalogue;

/// <summary>What a formula asks of one of its inputs, known by its role in the catalogue's inputs.</summary>
internal sealed record DerivationInput(string Role, IReadOnlyList<string> Units, string Words, Func<CatalogueEntry, bool> Accepts);

/// <summary>A published formula that makes one covariate of others.</summary>
/// <param name="MayFollowExposure">Whether it can be taken over the days of an exposure, and not only over a year.</param>
/// <param name="Recipe">The layers and how they combine, over some days or (null) a year.</param>
internal sealed record DerivationRule(
    string Name, string Words, IReadOnlyList<string> Units, bool IsClass, bool MayFollowExposure, IReadOnlyList<DerivationInput> Inputs,
    Func<IReadOnlyDictionary<string, CatalogueEntry>, ExposureDays?, CovariateRecipe> Recipe)
{
    /// <summary>The months of the result, for formulas that have them.</summary>
    public Func<IReadOnlyDictionary<string, CatalogueEntry>, MonthlyProfile?> Profile { get; init; } = static _ => null;

    private static readonly string[] Millimetres = ["mm", "mm/month", "mm month-1"];
    private static readonly string[] Pure = ["", "1"];

    private static readonly DerivationInput Mean = Monthly("mean", CelsiusUnit.Names, "the mean temperature of twelve months");
    private static readonly DerivationInput Precipitation =
        Monthly("precipitation", Millimetres, "the precipitation of twelve months, as totals");

    public static IReadOnlyList<DerivationRule> All { get; } =
    [
        Evaporation(
            "pet_hargreaves",
            "0.0023 (Tmean + 17.8) (Tmax - Tmin)^0.5 0.408 Ra x days of the month; FAO-56 (Allen et al. 1998) eq. 52, Ra from latitude "
            + "by eq. 21",
            [Mean, Monthly("maximum", CelsiusUnit.Names, "the mean daily maximum of twelve months"),
            Monthly("minimum", CelsiusUnit.Names, "the mean daily minimum of twelve months")],
            static (latitude, t) => [.. Enumerable.Range(0, 12)
                .Select(m => Evapotranspiration.HargreavesOfMonth(latitude, m + 1, t[0][m], t[1][m], t[2][m]))]),
        Evaporation(
            "pet_thornthwaite",
            "16 (10 T / I)^a (day length / 12) (days / 30), above 26.5 degC -415.85 + 32.24 T - 0.43 T^2; Thornthwaite 1948, Willmott "
            + "et al. 1985",
            [Mean],
            static (latitude, t) => Evapotranspiration.Thornthwaite(latitude, t[0])?.Select(v => (double?)v).ToArray() ?? new double?[12]),
        new DerivationRule(
            "aridity_index", "precipitation / potential evapotranspiration; UNEP 1997", Pure, false, true,
            [Precipitation,
            Monthly("evapotranspiration", Millimetres, "the potential evapotranspiration of twelve months, derived or as totals")],
            static (inputs, days) => Combined(inputs, ["precipitation", "evapotranspiration"], (_, months) =>
                new RecipeValue(Climate.AridityIndex(Total(months[0], days), Total(months[1], days))), days)),
        new DerivationRule(
            "aridity_class",
            "hyper-arid below 0.05, arid below 0.20, semi-arid below 0.50, dry-subhumid below 0.65, else humid; UNEP 1997",
            [""], true, false,
            [new("aridity", Pure, "an aridity_index over a year",
                e => e.Making is Derivation { Rule.Name: "aridity_index", DependsOnBurial: false })],
            static (inputs, _) =>
            {
                CovariateRecipe index = inputs["aridity"].Made.RecipeFor(BurialConditions.None);
                return CovariateRecipe.Of(index.Layers, (latitude, values) =>
                {
                    double? aridity = index.Combine(latitude, [.. values.Select(v => v ?? double.NaN)]).Number;
                    return new RecipeValue(null, aridity is { } value ? Climate.ClassOf(value) : null);
                });
            }),
        new DerivationRule(
            "climate_class",
            "classes of Koeppen from twelve months of temperature and precipitation; Peel, Finlayson and McMahon 2007, table 1", [""],
            true, false,
            [Monthly("temperature", CelsiusUnit.Names, "the mean temperature of twelve months"), Precipitation],
            static (inputs, _) => Combined(inputs, ["temperature", "precipitation"],
                static (_, months) => new RecipeValue(null, Climate.KoeppenClass(months[0], months[1])))),
        new DerivationRule(
            "temperature_response",
            "exp(308.56 (1/56.02 - 1/(T + 46.02))) of each month or step, weighted by days; Lloyd and Taylor 1994 eq. 11", Pure, false,
            true,
            [new("temperature", CelsiusUnit.Names, "the mean temperature of twelve months or of a dated series",
                e => HasMonths(e) || e.Making is DatedSeries)],
            static (inputs, days) => inputs["temperature"].Making is DatedSeries series
                ? MeanResponse(series, days!)
                : Combined(inputs, ["temperature"], (_, months) =>
                    new RecipeValue(Climate.TemperatureResponse(days ?? MonthlyClimatology.CommonYear, months[0])), days)),
    ];

    private static DerivationInput Monthly(string role, IReadOnlyList<string> units, string words) => new(role, units, words, HasMonths);

    private static bool HasMonths(CatalogueEntry entry) =>
        entry.Making is MonthlyClimatology { Statistic: not TimeStatistic.DegreeDays }
        or Derivation { Rule.Name: "pet_hargreaves" or "pet_thornthwaite" };

    private static DerivationRule Evaporation(
        string name, string words, IReadOnlyList<DerivationInput> asked,
        Func<double, IReadOnlyList<double?>[], IReadOnlyList<double?>> months)
    {
        string[] roles = [.. asked.Select(i => i.Role)];
        return new DerivationRule(
            name, words, Millimetres, false, true, asked,
            (inputs, days) => Combined(inputs, roles, (latitude, t) => new RecipeValue(Total(months(latitude, t), days)), days))
        {
            Profile = inputs => Profiles(inputs, roles) is var (layers, split)
                ? new MonthlyProfile(layers, (latitude, values) => months(latitude, split(latitude, values)))
                : null,
        };
    }

    // Over a year every month counts whole; over an exposure by the share of its days.
    private static double? Total(IReadOnlyList<double?> months, ExposureDays? days) => (days ?? MonthlyClimatology.CommonYear).Sum(months);

    private static CovariateRecipe Combined(
        IReadOnlyDictionary<string, CatalogueEntry> inputs, IReadOnlyList<string> roles,
        Func<double, IReadOnlyList<double?>[], RecipeValue> formula,
        ExposureDays? days = null)
    {
        (IReadOnlyList<LayerSource> layers, Func<double, ArraySegment<double?>, IReadOnlyList<double?>[]> split) = Profiles(inputs, roles);
        return CovariateRecipe.Of(
            layers, (latitude, values) => formula(latitude, split(latitude, values)),
            days is null ? null : Counted(days.Months().Select(m => ($"month {m.Month}", m.Days))));
    }

    /// <summary>The layers of several inputs one after the other, and how their values come back apart as months.</summary>
    private static (IReadOnlyList<LayerSource> Layers, Func<double, ArraySegment<double?>, IReadOnlyList<double?>[]> Split) Profiles(
        IReadOnlyDictionary<string, CatalogueEntry> inputs, IReadOnlyList<string> roles)
    {
        MonthlyProfile[] profiles = [.. roles.Select(role => MonthlyProfile.Of(inputs[role])!)];
        int[] starts = [.. profiles.Select((_, i) => profiles.Take(i).Sum(p => p.Layers.Count))];
        return (
            [.. profiles.SelectMany(p => p.Layers)],
            (latitude, values) => [.. profiles.Select((p, i) => p.Months(latitude, values.Slice(starts[i], p.Layers.Count)))]);
    }

    private static CovariateRecipe MeanResponse(DatedSeries series, ExposureDays days) => series.RecipeOver(days, steps =>
        CovariateRecipe.Of(
        [.. steps.Select(s => s.Layer.Source)],
        (_, values) => new RecipeValue(values.Any(v => v is null) ? null
            : values.Select((v, i) => Climate.TemperatureResponse(v!.Value) * steps[i].Days).Sum() / days.Count),
        Counted(steps.Select(s => (s.Layer.Source.Name, s.Days)))));

    // Of a long daily series only the first and the last are named.
    private static string Counted(IEnumerable<(string Layer, int Days)> counted)
    {
        (string Layer, int Days)[] all = [.. counted];
        return all.Length <= 12
            ? string.Join("; ", all.Select(c => $"{c.Layer} x {c.Days} d"))
            : $"{all[0].Layer} to {all[^1].Layer}, {all.Sum(c => c.Days)} d in {all.Length} steps";
    }
}
