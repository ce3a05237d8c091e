namespace DecayAtlas.Pages.Reading;

/// <summary>Which covariates stand for the climate of a site; missing where the grids have none.</summary>
public sealed record ClimateNames(string? Temperature, string? Precipitation)
{
    /// <summary>Names as the configuration gives them, else the first covariate in °C that is called a temperature and the first in mm that
    /// is called precipitation.</summary>
    public static ClimateNames Of(ReleaseData data, string? temperature, string? precipitation)
    {
        (string Name, string? Unit)[] all = [.. data.Covariates.Select(c => (c.Covariate, c.Unit)).Distinct()
            .OrderBy(c => c.Covariate, StringComparer.Ordinal)];
        return new ClimateNames(
            temperature
            ?? all.FirstOrDefault(c => c.Unit is "degC" or "°C" && c.Name.Contains("temperature", StringComparison.Ordinal)).Name,
            precipitation
            ?? all.FirstOrDefault(
                c => c.Unit?.StartsWith("mm", StringComparison.Ordinal) == true
                    && c.Name.Contains("precipitation", StringComparison.Ordinal)).Name);
    }
}

/// <summary>How the sites beside which a site is shown were chosen.</summary>
public enum Likeness
{
    /// <summary>Air as warm within 2 °C, and precipitation within half and double.</summary>
    WarmthAndRain,

    /// <summary>Air as warm within 2 °C.</summary>
    Warmth,

    /// <summary>Every other site: the climate of the site is not known, or too few are like it.</summary>
    All,
}

/// <summary>Sites of other contributors in a climate like that of a site.</summary>
public sealed class SimilarSites(Likeness likeness, IReadOnlyList<SiteRate> sites)
{
    private double[]? _sorted;

    public Likeness Likeness => likeness;

    public IReadOnlyList<SiteRate> Sites => sites;

    public int Count => sites.Count;

    /// <summary>How many of them are slower than a rate (d⁻¹).</summary>
    public int SlowerThan(double ratePerDay)
    {
        _sorted ??= [.. sites.Select(s => s.RatePerDay!.Value).Order()];
        int low = 0, high = _sorted.Length;
        while (low < high)
        {
            int middle = (low + high) / 2;
            (low, high) = _sorted[middle] < ratePerDay ? (middle + 1, high) : (low, middle);
        }

        return low;
    }
}

/// <summary>Finds sites to stand beside. Limits are ours: wide enough that some are found, narrow enough to be told in a
/// sentence.</summary>
public sealed class SimilarClimate
{
    /// <summary>How far the mean temperature may be off (°C).</summary>
    public const double WarmthDegrees = 2;

    /// <summary>By which factor precipitation may be off.</summary>
    public const double RainFactor = 2;

    /// <summary>Fewer sites than this say too little.</summary>
    public const int Fewest = 5;

    /// <summary>More than this say no more: then the closest in warmth are taken.</summary>
    public const int Most = 500;

    private readonly List<(SiteRate Rate, double Temperature, double? Rain)> _known;
    private readonly List<SiteRate> _all;
    private readonly double[] _temperatures;   // of the known, rising
    private readonly Dictionary<string, (double Temperature, double? Rain)> _climate = new(StringComparer.Ordinal);
    private (string Contributor, SimilarSites Sites)? _allButOne;   // of the contributor asked for last: sites are asked for group by group

    public SimilarClimate(ReleaseData data, ClimateNames names)
    {
        _all = [.. data.Sites.Select(s => data.Rates[s.SiteKey]).Where(r => r.RatePerDay is not null)];
        IReadOnlyDictionary<string, double> rain = names.Precipitation is { } p ? data.Covariate(p) : new Dictionary<string, double>();
        foreach ((string site, double temperature) in names.Temperature is { } t ? data.Covariate(t) : new Dictionary<string, double>())
            _climate[site] = (temperature, rain.TryGetValue(site, out double mm) ? mm : null);
        _known = [.. _all.Where(r => _climate.ContainsKey(r.Site.SiteKey))
            .Select(r => (r, _climate[r.Site.SiteKey].Temperature, _climate[r.Site.SiteKey].Rain)).OrderBy(k => k.Temperature)];
        _temperatures = [.. _known.Select(k => k.Temperature)];
    }

    /// <summary>The sites to show beside one.</summary>
    public SimilarSites Of(ReleasedSite site)
    {
        if (_climate.TryGetValue(site.SiteKey, out (double Temperature, double? Rain) here))
        {
            SiteRate[] both = here.Rain is not > 0 ? [] : [.. ClosestInWarmth(here.Temperature)
                .Where(o => IsOther(o.Rate) && o.Rain is > 0 && Math.Abs(Math.Log(o.Rain.Value / here.Rain.Value)) <= Math.Log(RainFactor))
                .Select(o => o.Rate).Take(Most)];
            if (both.Length >= Fewest)
                return new SimilarSites(Likeness.WarmthAndRain, both);
            SiteRate[] warm = [.. ClosestInWarmth(here.Temperature).Where(o => IsOther(o.Rate)).Select(o => o.Rate).Take(Most)];
            if (warm.Length >= Fewest)
                return new SimilarSites(Likeness.Warmth, warm);
        }

        if (_allButOne?.Contributor != site.ContributorId)
            _allButOne = (site.ContributorId, new SimilarSites(Likeness.All, [.. _all.Where(IsOther)]));
        return _allButOne!.Value.Sites;

        bool IsOther(SiteRate rate) => rate.Site.ContributorId != site.ContributorId;
    }

    /// <summary>Sites as warm within <see cref="WarmthDegrees"/>, from the closest on.</summary>
    private IEnumerable<(SiteRate Rate, double Temperature, double? Rain)> ClosestInWarmth(double temperature)
    {
        int above = Array.BinarySearch(_temperatures, temperature);
        above = above < 0 ? ~above : above;
        for (int below = above - 1; ;)
        {
            double up = above < _temperatures.Length ? _temperatures[above] - temperature : double.PositiveInfinity;
            double down = below >= 0 ? temperature - _temperatures[below] : double.PositiveInfinity;
            if (Math.Min(up, down) > WarmthDegrees)
                yield break;
            yield return up <= down ? _known[above++] : _known[below--];
        }
    }
}
