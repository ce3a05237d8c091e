using MathNet.Numerics.LinearAlgebra;

namespace DecayAtlas.Prediction.Siting;

/// <summary>A place with the variance of what it is off by.</summary>
/// <param name="Share">Of a mean.</param>
internal readonly record struct ErringPlace(GeoPoint Point, double Variance, double Share = 0);

/// <summary>
/// What sites tell of their surroundings where somebody krigs the residuals: how what places are off by goes with what means are off by,
/// given what existing sites tell of both.
/// </summary>
/// <remarks>Simple kriging of means of a region, the trend taken as known: Cressie 1993, Statistics for Spatial Data, sections 3.4 and 5.2
/// (from memory).</remarks>
internal sealed class Surroundings
{
    private const int MostKnown = 1000;

    private readonly double[][] _toldOfPlaces;

    /// <param name="priorOfMeans">Variances of what the means are off by from their places, before anything is told.</param>
    /// <param name="known">Existing sites; the thousand nearest to the places are taken.</param>
    /// <param name="ofKnown">What the mean of one of them is measured wrong by.</param>
    public Surroundings(ErrorCorrelation errors, IReadOnlyList<ErringPlace> places, IReadOnlyList<IReadOnlyList<ErringPlace>> means,
        IReadOnlyList<double> priorOfMeans, IReadOnlyList<ErringPlace> known, double ofKnown)
    {
        GeoPoint middle = places[OtherChoices.Spread([.. places.Select(p => p.Point)], 1)[0]].Point;
        ErringPlace[] near = [.. known.OrderBy(k => k.Point.GroundDistanceMetres(middle)).Take(MostKnown)];
        double[][] withMeans = [.. means.Select(m => places.Select(p => Between(p, m)).ToArray())];
        double[] left = [.. priorOfMeans];
        _toldOfPlaces = [.. places.Select(_ => Array.Empty<double>())];
        if (near.Length > 0 && errors.RangeMetres > 0)
        {
            Matrix<double> root = Matrix<double>.Build.Dense(near.Length, near.Length, (i, j) => i == j ? near[i].Variance + ofKnown
                : Structured(near[i], near[j])).Cholesky().Factor;
            _toldOfPlaces = [.. places.Select(p => Told(n => Structured(p, n)))];
            for (int m = 0; m < means.Count; m++)
            {
                double[] told = Told(n => Between(n, means[m]));
                left[m] -= Dot(told, told);
                for (int c = 0; c < places.Count; c++)
                    withMeans[m][c] -= Dot(told, _toldOfPlaces[c]);
            }

            double[] Told(Func<ErringPlace, double> with) => Solved(root, [.. near.Select(with)]);
        }

        WithMeans = withMeans;
        OfMeans = [.. left.Select(v => Math.Max(0, v))];

        double Structured(ErringPlace one, ErringPlace two) =>
            Math.Sqrt(one.Variance * two.Variance) * errors.At(one.Point.GroundDistanceMetres(two.Point));

        double Between(ErringPlace one, IReadOnlyList<ErringPlace> mean) => mean.Sum(p => p.Share * Structured(one, p));
    }

    /// <summary>Covariances by mean and place.</summary>
    public double[][] WithMeans { get; }

    public double[] OfMeans { get; }

    /// <summary>What existing sites take off the covariance of two places.</summary>
    public double Told(int one, int two) => Dot(_toldOfPlaces[one], _toldOfPlaces[two]);

    private static double Dot(double[] a, double[] b)
    {
        double sum = 0;
        for (int i = 0; i < a.Length; i++)
            sum += a[i] * b[i];
        return sum;
    }

    /// <summary>Forward substitution.</summary>
    private static double[] Solved(Matrix<double> lower, double[] right)
    {
        for (int i = 0; i < right.Length; i++)
        {
            double sum = right[i];
            for (int j = 0; j < i; j++)
                sum -= lower[i, j] * right[j];
            right[i] = sum / lower[i, i];
        }
        return right;
    }
}
