namespace DecayAtlas.Pages.Reading;

/// <summary>Which covariates stand for the climate of a site; missing where the grids have none.</summary>
public sealed record ClimateNames(string? Temperature, string? Precipitation)
{
    /// <summary>Names as the configuration gives them, else the first covariate in °C that is called a temperature and the first in mm that
    /// is called precipitation.</summary>
    public static ClimateNames Of(ReleaseData data, string? temperature, string? precipitation)
    {
        return new ClimateNames(
            temperature ?? First("temperature", unit => unit is "degC" or "°C"),
            precipitation ?? First("precipitation", unit => unit.StartsWith("mm", StringComparison.Ordinal)));

        string? First(string name, Predicate<string> isUnit) => data.Covariates
            .Where(c => c.Unit is { } unit && isUnit(unit) && c.Covariate.Contains(name, StringComparison.Ordinal))
            .Select(c => c.Covariate).Min(StringComparer.Ordinal);
    }
}

/// <summary>How the sites beside which a site is shown were chosen.</summary>
internal enum Likeness
{
    /// <summary>Air as warm within 2 °C, and precipitation within half and double.</summary>
    WarmthAndRain,

    /// <summary>Air as warm within 2 °C.</summary>
    Warmth,

    /// <summary>Every other site: the climate of the site is not known, or too few are like it.</summary>
    All,
}

/// <summary>Sites of other contributors in a climate like that of a site.</summary>
internal sealed class SimilarSites(Likeness likeness, IReadOnlyList<SiteRate> sites)
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
internal sealed class SimilarClimate
{
    /// <summary>How far the mean temperature may be off (°C).</summary>
    public const double WarmthDegrees = 2;

    /// <summary>By which factor precipitation may be off.</summary>
    public const double RainFactor = 2;

    /// <summary>Fewer sites than this say too little.</summary>
    public const int Fewest = 5;

    /// <summary>More than this say no more: then the closest in warmth are taken.</summary>
    public const int Most = 500;

    private readonly Known[] _known;   // from the coldest on
    private readonly SiteRate[] _all;
    private readonly double[] _temperatures;   // of the known
    private readonly Dictionary<string, (double Temperature, double? Rain)> _climate = [];
    private (string Contributor, SimilarSites Sites)? _allButOne;   // of the contributor asked for last: sites are asked for group by group

    public SimilarClimate(ReleaseData data, ClimateNames names)
    {
        _all = [.. data.Sites.Select(s => data.Rates[s.SiteKey]).Where(r => r.RatePerDay is not null)];
        IReadOnlyDictionary<string, double> rain = data.Covariate(names.Precipitation);
        foreach ((string site, double temperature) in data.Covariate(names.Temperature))
            _climate[site] = (temperature, rain.TryGetValue(site, out double mm) ? mm : null);
        _known = [.. _all.Where(r => _climate.ContainsKey(r.Site.SiteKey))
            .Select(r => new Known(r, _climate[r.Site.SiteKey].Temperature, _climate[r.Site.SiteKey].Rain)).OrderBy(k => k.Temperature)];
        _temperatures = [.. _known.Select(k => k.Temperature)];
    }

    public SimilarSites Of(ReleasedSite site)
    {
        if (_climate.TryGetValue(site.SiteKey, out (double Temperature, double? Rain) here))
        {
            IEnumerable<Known> near = ClosestInWarmth(here.Temperature).Where(o => IsOther(o.Rate));
            SiteRate[] both = here.Rain is not > 0 ? [] : [.. near
                .Where(o => o.Rain is > 0 && Math.Abs(Math.Log(o.Rain.Value / here.Rain.Value)) <= Math.Log(RainFactor))
                .Select(o => o.Rate).Take(Most)];
            if (both.Length >= Fewest)
                return new SimilarSites(Likeness.WarmthAndRain, both);
            SiteRate[] warm = [.. near.Select(o => o.Rate).Take(Most)];
            if (warm.Length >= Fewest)
                return new SimilarSites(Likeness.Warmth, warm);
        }

        if (_allButOne?.Contributor != site.ContributorId)
            _allButOne = (site.ContributorId, new SimilarSites(Likeness.All, [.. _all.Where(IsOther)]));
        return _allButOne!.Value.Sites;

        bool IsOther(SiteRate rate) => rate.Site.ContributorId != site.ContributorId;
    }

    /// <summary>Sites as warm within <see cref="WarmthDegrees"/>, from the closest on.</summary>
    private IEnumerable<Known> ClosestInWarmth(double temperature)
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

    private sealed record Known(SiteRate Rate, double Temperature, double? Rain);
}
