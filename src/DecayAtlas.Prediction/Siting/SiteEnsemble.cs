namespace DecayAtlas.Prediction.Siting;

/// <summary>What the mean of a new site is measured wrong by, as variances of ln k.</summary>
/// <param name="OfSite">Of its burials, shared with no other site.</param>
/// <param name="OfBatch">Of its batch, which all new sites are taken to share.</param>
public sealed record SiteNoise(double OfSite, double OfBatch);

/// <summary>What the pairs of members say of places where a site could be and of the means that are to be surer, and how places err
/// beyond that.</summary>
/// <param name="AtPlaces">ln k by pair and place.</param>
/// <param name="OfMeans">ln of the mean by pair and mean.</param>
/// <param name="Blocks">Of which the pairs' sites were drawn.</param>
/// <param name="LocalVariances">Of what each place itself is off by.</param>
/// <param name="Errors">How alike that is at two places.</param>
internal sealed record SiteEnsemble(
    IReadOnlyList<GeoPoint> Places, double[][] AtPlaces, double[][] OfMeans, int Blocks, double[] LocalVariances, ErrorCorrelation Errors,
    SiteNoise Noise)
{
    public int Pairs => AtPlaces.Length;

    public int Means => OfMeans[0].Length;

    /// <summary>What sites tell of their surroundings; missing where nobody carries it there.</summary>
    public Surroundings? Around { get; init; }

    /// <param name="covariates">Of the places, one array a covariate.</param>
    /// <param name="meansOfMembers">ln of each mean by member.</param>
    public static SiteEnsemble Of(RateModel model, IReadOnlyList<GeoPoint> places, double[][] covariates,
        IReadOnlyList<double[]> meansOfMembers, SiteNoise noise)
    {
        (double[] halves, double[] ofMembers) = model.LocalErrors(covariates, places);
        double z = ErrorParts.NormalQuantile(model.Limits.Interval.Level);
        int pairs = model.Members.Pairs, count = places.Count;
        return new(places,
            [.. Enumerable.Range(0, pairs).Select(p => Enumerable.Range(0, count)
                .Select(c => (ofMembers[2 * p * count + c] + ofMembers[(2 * p + 1) * count + c]) / 2).ToArray())],
            [.. Enumerable.Range(0, pairs).Select(p => meansOfMembers.Select(m => (m[2 * p] + m[2 * p + 1]) / 2).ToArray())],
            model.Members.Blocks, [.. halves.Select(h => h / z * (h / z))], model.Errors, noise);
    }

    /// <summary>What places and burials add to the covariance of what two new sites would be measured as.</summary>
    public double NoiseOf(int one, int two, double metres) => Noise.OfBatch - (Around?.Told(one, two) ?? 0)
        + (one == two ? LocalVariances[one] + Noise.OfSite
            : Math.Sqrt(LocalVariances[one] * LocalVariances[two]) * Errors.At(metres));
}
