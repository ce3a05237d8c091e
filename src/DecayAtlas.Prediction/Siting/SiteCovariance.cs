namespace DecayAtlas.Prediction.Siting;

/// <summary>Covariances, over some pairs of members, of what sites would be measured as, and with the means that are to be
/// surer.</summary>
/// <remarks>As in ensemble Kalman filters (Evensen 2009, Data Assimilation, from memory): the members' deviations from their mean stand for
/// what the model is off by. What a place itself is off by does not reach the mean through a model that holds nothing of it, and counts as
/// an error of the measurement that near sites share; where residuals are kriged it tells of the surroundings
/// (<see cref="Surroundings"/>).</remarks>
internal sealed class SiteCovariance
{
    private readonly SiteEnsemble _ensemble;
    private readonly double[][] _atPlaces, _ofMeans;

    public SiteCovariance(SiteEnsemble ensemble, IReadOnlyList<int> pairs)
    {
        _ensemble = ensemble;
        // a mean of B blocks, drawn B at a time, scatters less than it would over other sites, by (B - 1)/B
        double factor = Math.Sqrt(ensemble.Blocks / (ensemble.Blocks - 1.0) / (pairs.Count - 1));
        _atPlaces = Deviations([.. pairs.Select(p => ensemble.AtPlaces[p])], factor);
        _ofMeans = Deviations([.. pairs.Select(p => ensemble.OfMeans[p])], factor);
    }

    public static SiteCovariance OfAll(SiteEnsemble ensemble) => new(ensemble, [.. Enumerable.Range(0, ensemble.Pairs)]);

    public IReadOnlyList<GeoPoint> Places => _ensemble.Places;

    public int Means => _ensemble.Means;

    public int Deviates => _atPlaces.Length;

    public double AtPlace(int deviate, int place) => _atPlaces[deviate][place];

    public double OfMean(int deviate, int mean) => _ofMeans[deviate][mean];

    public double WithMean(int place, int mean)
    {
        double sum = 0;
        for (int p = 0; p < _atPlaces.Length; p++)
            sum += _atPlaces[p][place] * _ofMeans[p][mean];
        return sum + AroundWithMean(place, mean);
    }

    /// <summary>The part of it that comes from what places are off by.</summary>
    public double AroundWithMean(int place, int mean) => _ensemble.Around?.WithMeans[mean][place] ?? 0;

    /// <summary>Of what the means are off by from their places, as far as sites lower it.</summary>
    public double AroundMeans => _ensemble.Around?.OfMeans.Sum() ?? 0;

    public double Of(int one, int two)
    {
        double sum = 0;
        for (int p = 0; p < _atPlaces.Length; p++)
            sum += _atPlaces[p][one] * _atPlaces[p][two];
        return sum + Noise(one, two);
    }

    public double Noise(int one, int two) =>
        _ensemble.NoiseOf(one, two, one == two ? 0 : Places[one].GroundDistanceMetres(Places[two]));

    /// <summary>By how much the variances of the means would fall, together, by one site at each place.</summary>
    public double[] GainsOfOne() => [.. Enumerable.Range(0, Places.Count).Select(c =>
        Enumerable.Range(0, Means).Sum(m => WithMean(c, m) * WithMean(c, m)) / Of(c, c))];

    private static double[][] Deviations(double[][] values, double factor)
    {
        double[] mean = [.. Enumerable.Range(0, values[0].Length).Select(i => values.Average(v => v[i]))];
        return [.. values.Select(v => v.Select((x, i) => factor * (x - mean[i])).ToArray())];
    }
}
