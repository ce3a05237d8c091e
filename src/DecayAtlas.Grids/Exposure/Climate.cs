namespace DecayAtlas.Grids.Exposure;

/// <summary>What follows from a year of monthly means.</summary>
internal static class Climate
{
    /// <summary>Precipitation over potential evapotranspiration of a year; null where one is missing or nothing evaporates.</summary>
    public static double? AridityIndex(double? annualPrecipitationMillimetres, double? annualEvapotranspirationMillimetres) =>
        annualEvapotranspirationMillimetres > 0 ? annualPrecipitationMillimetres / annualEvapotranspirationMillimetres : null;

    /// <summary>The class of an aridity index (UNEP 1997, World Atlas of Desertification, 2nd ed.).</summary>
    public static string ClassOf(double aridityIndex) => aridityIndex switch
    {
        < 0.05 => "hyper-arid",
        < 0.20 => "arid",
        < 0.50 => "semi-arid",
        < 0.65 => "dry-subhumid",
        _ => "humid",
    };

    /// <summary>
    /// Respiration of soil at a temperature over that at 10 degrees (Lloyd and Taylor 1994, Functional Ecology 8:315-323, eq. 11):
    /// exp(308.56 (1 / 56.02 - 1 / (T + 46.02))); 0 at -46.02 degrees and below.
    /// </summary>
    public static double TemperatureResponse(double celsius) =>
        celsius <= -46.02 ? 0 : Math.Exp(308.56 * (1 / 56.02 - 1 / (celsius + 46.02)));

    /// <summary>Mean response over an exposure of monthly mean temperatures: the mean of the responses, not the response of the
    /// mean.</summary>
    public static double? TemperatureResponse(ExposureDays exposure, IReadOnlyList<double?> monthlyMeansCelsius) =>
        exposure.Mean([.. monthlyMeansCelsius.Select(t => t is { } celsius ? TemperatureResponse(celsius) : (double?)null)]);

    /// <summary>
    /// The climate class of Koeppen as Peel, Finlayson and McMahon 2007 (Hydrology and Earth System Sciences 11:1633-1644,
    /// table 1) define it, such as "Cfb"; null where a month is missing. Summer is the warmer of April to September and
    /// October to March. The arid classes are asked first. Where a dry summer and a dry winter both hold, the drier half of
    /// the year decides.
    /// </summary>
    public static string? KoeppenClass(IReadOnlyList<double?> meansCelsius, IReadOnlyList<double?> precipitationMillimetres)
    {
        ArgumentOutOfRangeException.ThrowIfNotEqual(meansCelsius.Count, 12, nameof(meansCelsius));
        ArgumentOutOfRangeException.ThrowIfNotEqual(precipitationMillimetres.Count, 12, nameof(precipitationMillimetres));
        if (meansCelsius.Concat(precipitationMillimetres).Any(v => v is null))
            return null;

        double[] t = [.. meansCelsius.Select(v => v!.Value)], p = [.. precipitationMillimetres.Select(v => v!.Value)];
        int[] northern = [3, 4, 5, 6, 7, 8], southern = [9, 10, 11, 0, 1, 2];
        bool north = northern.Average(m => t[m]) >= southern.Average(m => t[m]);
        double[] summer = [.. (north ? northern : southern).Select(m => p[m])];
        double[] winter = [.. (north ? southern : northern).Select(m => p[m])];
        double hot = t.Max(), cold = t.Min(), mean = t.Average(), year = p.Sum();
        double threshold = 2 * mean + (winter.Sum() >= 0.7 * year ? 0 : summer.Sum() >= 0.7 * year ? 28 : 14);
        if (year < 10 * threshold)
            return (year < 5 * threshold ? "BW" : "BS") + (mean >= 18 ? 'h' : 'k');

        if (cold >= 18)
            return p.Min() >= 60 ? "Af" : p.Min() >= 100 - year / 25 ? "Am" : "Aw";

        if (hot < 10)
            return hot > 0 ? "ET" : "EF";

        int warmMonths = t.Count(month => month >= 10);
        char warmth = hot >= 22 ? 'a' : warmMonths >= 4 ? 'b' : cold < -38 ? 'd' : 'c';
        bool drySummer = summer.Min() < 40 && summer.Min() < winter.Max() / 3, dryWinter = winter.Min() < summer.Max() / 10;
        char season = drySummer && (!dryWinter || summer.Sum() < winter.Sum()) ? 's' : dryWinter ? 'w' : 'f';
        return $"{(cold > 0 ? 'C' : 'D')}{season}{warmth}";
    }
}
