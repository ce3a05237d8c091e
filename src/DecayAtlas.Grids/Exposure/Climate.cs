namespace DecayAtlas.Grids.Exposure;

/// <summary>Dryness of a climate (UNEP 1997, World Atlas of Desertification, 2nd ed.).</summary>
public enum AridityClass
{
    /// <summary>Below 0.05.</summary>
    HyperArid,

    /// <summary>0.05 to 0.20.</summary>
    Arid,

    /// <summary>0.20 to 0.50.</summary>
    SemiArid,

    /// <summary>0.50 to 0.65.</summary>
    DrySubhumid,

    /// <summary>0.65 and above.</summary>
    Humid,
}

/// <summary>What follows from a year of monthly means.</summary>
public static class Climate
{
    /// <summary>Precipitation over potential evapotranspiration of a year; null where one is missing or nothing evaporates.</summary>
    public static DerivedValue AridityIndex(double? annualPrecipitationMillimetres, double? annualEvapotranspirationMillimetres) => new(
        "aridity_index",
        annualEvapotranspirationMillimetres > 0 ? annualPrecipitationMillimetres / annualEvapotranspirationMillimetres : null,
        "",
        "annual precipitation / annual potential evapotranspiration; UNEP 1997",
        ["precipitation of twelve months", "potential evapotranspiration of twelve months"]);

    /// <summary>The class of an aridity index.</summary>
    public static AridityClass ClassOf(double aridityIndex) => aridityIndex switch
    {
        < 0.05 => AridityClass.HyperArid,
        < 0.20 => AridityClass.Arid,
        < 0.50 => AridityClass.SemiArid,
        < 0.65 => AridityClass.DrySubhumid,
        _ => AridityClass.Humid,
    };

    /// <summary>
    /// Respiration of soil at a temperature over that at 10 degrees (Lloyd and Taylor 1994, Functional Ecology 8:315-323, eq. 11):
    /// exp(308.56 (1 / 56.02 - 1 / (T + 46.02))); 0 at -46.02 degrees and below.
    /// </summary>
    public static double TemperatureResponse(double celsius) =>
        celsius <= -46.02 ? 0 : Math.Exp(308.56 * (1 / 56.02 - 1 / (celsius + 46.02)));

    /// <summary>Mean response over an exposure of monthly mean temperatures: the mean of the responses, not the response of the
    /// mean.</summary>
    public static DerivedValue TemperatureResponse(ExposureDays exposure, IReadOnlyList<double?> monthlyMeansCelsius)
    {
        ArgumentNullException.ThrowIfNull(exposure);
        ArgumentNullException.ThrowIfNull(monthlyMeansCelsius);
        return new DerivedValue(
            "temperature_response",
            exposure.Mean([.. monthlyMeansCelsius.Select(t => t is { } celsius ? TemperatureResponse(celsius) : (double?)null)]),
            "",
            "exp(308.56 (1/56.02 - 1/(T + 46.02))) weighted by days; Lloyd and Taylor 1994 eq. 11",
            ["mean temperature of the exposed months"]);
    }

    /// <summary>
    /// The climate class of Koeppen as Peel, Finlayson and McMahon 2007 (Hydrology and Earth System Sciences 11:1633-1644,
    /// table 1) define it, such as "Cfb"; null where a month is missing. Summer is the warmer of April to September and
    /// October to March. The arid classes are asked first. Where a dry summer and a dry winter both hold, the drier half of
    /// the year decides.
    /// </summary>
    public static string? KoeppenClass(IReadOnlyList<double?> meansCelsius, IReadOnlyList<double?> precipitationMillimetres)
    {
        ArgumentNullException.ThrowIfNull(meansCelsius);
        ArgumentNullException.ThrowIfNull(precipitationMillimetres);
        ArgumentOutOfRangeException.ThrowIfNotEqual(meansCelsius.Count, 12, nameof(meansCelsius));
        ArgumentOutOfRangeException.ThrowIfNotEqual(precipitationMillimetres.Count, 12, nameof(precipitationMillimetres));
        if (meansCelsius.Concat(precipitationMillimetres).Any(v => v is null))
            return null;

        double[] t = [.. meansCelsius.Select(v => v!.Value)], p = [.. precipitationMillimetres.Select(v => v!.Value)];
        int[] northern = [3, 4, 5, 6, 7, 8], southern = [9, 10, 11, 0, 1, 2];
        bool north = northern.Average(m => t[m]) >= southern.Average(m => t[m]);
        Halves rain = new([.. (north ? northern : southern).Select(m => p[m])], [.. (north ? southern : northern).Select(m => p[m])]);
        double hot = t.Max(), cold = t.Min(), mean = t.Average(), year = p.Sum();
        double threshold = 2 * mean + (rain.Winter.Sum() >= 0.7 * year ? 0 : rain.Summer.Sum() >= 0.7 * year ? 28 : 14);
        if (year < 10 * threshold)
            return (year < 5 * threshold ? "BW" : "BS") + (mean >= 18 ? 'h' : 'k');

        if (cold >= 18)
            return p.Min() >= 60 ? "Af" : p.Min() >= 100 - year / 25 ? "Am" : "Aw";

        if (hot < 10)
            return hot > 0 ? "ET" : "EF";

        int warmMonths = t.Count(month => month >= 10);
        char warmth = hot >= 22 ? 'a' : warmMonths >= 4 ? 'b' : cold < -38 ? 'd' : 'c';
        return $"{(cold > 0 ? 'C' : 'D')}{rain.Season}{warmth}";
    }

    private sealed record Halves(double[] Summer, double[] Winter)
    {
        public char Season
        {
            get
            {
                bool drySummer = Summer.Min() < 40 && Summer.Min() < Winter.Max() / 3;
                bool dryWinter = Winter.Min() < Summer.Max() / 10;
                return drySummer && dryWinter ? Summer.Sum() < Winter.Sum() ? 's' : 'w' : drySummer ? 's' : dryWinter ? 'w' : 'f';
            }
        }
    }
}
