using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace DecayAtlas.Prediction.Models;

/// <summary>
/// The sites of a field that varies in space, and how like it is to them at a place: exp(-chord / range).
/// </summary>
/// <remarks>The chord is the straight line through the Earth between two places on its mean sphere. What is positive definite in three
/// dimensions is so on any surface in them, whatever the sites (Gneiting 2013, Bernoulli 19:1327-1349, from memory); along the ground the
/// same need not hold. Up to 1,000 km the chord is 0.1 % shorter.</remarks>
internal sealed record SpatialField(double[] LatitudesDegrees, double[] LongitudesDegrees, double RangeMetres)
{
    // x, y and z of all sites, m; made when asked for: what was read may not fit
    private readonly Lazy<double[]> _axes = new(() => AxesOf(LatitudesDegrees, LongitudesDegrees));

    public int Count => LatitudesDegrees.Length;

    public static SpatialField Of(IReadOnlyList<GeoPoint> sites, double rangeMetres) =>
        new([.. sites.Select(s => s.LatitudeDegrees)], [.. sites.Select(s => s.LongitudeDegrees)], rangeMetres);

    public static double ChordMetres(GeoPoint a, GeoPoint b)
    {
        ((double ax, double ay, double az), (double bx, double by, double bz)) = (AxesOf(a), AxesOf(b));
        return Math.Sqrt((ax - bx) * (ax - bx) + (ay - by) * (ay - by) + (az - bz) * (az - bz));
    }

    /// <summary>Of a place to every site; false for one that is not known.</summary>
    public bool LikenessOf(GeoPoint place, Span<double> likeness)
    {
        if (!double.IsFinite(place.LatitudeDegrees) || !double.IsFinite(place.LongitudeDegrees))
            return false;
        (double x, double y, double z) = AxesOf(place);
        ReadOnlySpan<double> axes = _axes.Value;
        ReadOnlySpan<double> xs = axes[..Count], ys = axes[Count..(2 * Count)], zs = axes[(2 * Count)..];
        double scale = -1 / RangeMetres;
        for (int s = 0; s < likeness.Length; s++)
        {
            double dx = x - xs[s], dy = y - ys[s], dz = z - zs[s];
            likeness[s] = Math.Exp(scale * Math.Sqrt(dx * dx + dy * dy + dz * dz));
        }
        return true;
    }

    /// <summary>Σ a b, in sixteen sums on every machine, so that it is the same on all and none waits for the one before.</summary>
    public static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        ref double firstA = ref MemoryMarshal.GetReference(a), firstB = ref MemoryMarshal.GetReference(b[..a.Length]);
        Vector256<double> one = Vector256<double>.Zero, two = one, three = one, four = one;
        nuint at = 0, length = (nuint)a.Length;
        for (; at + 16 <= length; at += 16)
        {
            one += Vector256.LoadUnsafe(ref firstA, at) * Vector256.LoadUnsafe(ref firstB, at);
            two += Vector256.LoadUnsafe(ref firstA, at + 4) * Vector256.LoadUnsafe(ref firstB, at + 4);
            three += Vector256.LoadUnsafe(ref firstA, at + 8) * Vector256.LoadUnsafe(ref firstB, at + 8);
            four += Vector256.LoadUnsafe(ref firstA, at + 12) * Vector256.LoadUnsafe(ref firstB, at + 12);
        }

        for (; at + 4 <= length; at += 4)
            one += Vector256.LoadUnsafe(ref firstA, at) * Vector256.LoadUnsafe(ref firstB, at);
        Vector256<double> sums = one + two + (three + four);
        double sum = sums[0] + sums[1] + (sums[2] + sums[3]);
        for (int rest = (int)at; rest < a.Length; rest++)
            sum += a[rest] * b[rest];
        return sum;
    }

    private static double[] AxesOf(double[] latitudes, double[] longitudes)
    {
        int count = latitudes.Length;
        double[] axes = new double[3 * count];
        for (int s = 0; s < count; s++)
            (axes[s], axes[count + s], axes[2 * count + s]) = AxesOf(new(longitudes[s], latitudes[s]));
        return axes;
    }

    private static (double X, double Y, double Z) AxesOf(GeoPoint place)
    {
        double latitude = place.LatitudeDegrees * Math.PI / 180, longitude = place.LongitudeDegrees * Math.PI / 180;
        return (GeoPoint.MeanEarthRadiusMetres * Math.Cos(latitude) * Math.Cos(longitude),
            GeoPoint.MeanEarthRadiusMetres * Math.Cos(latitude) * Math.Sin(longitude),
            GeoPoint.MeanEarthRadiusMetres * Math.Sin(latitude));
    }
}

/// <summary>What a model adds to its covariates' answer because of where a place lies: a sum over sites that fades far from all.</summary>
internal sealed class SpatialPart
{
    private readonly double[] _weights;

    public SpatialPart(SpatialField field, float[] weights)
    {
        if (field.LatitudesDegrees.Length != field.LongitudesDegrees.Length || weights.Length != field.Count || !(field.RangeMetres > 0))
            throw new InvalidDataException("its sites and their weights do not fit each other");
        (Field, _weights) = (field, [.. weights.Select(w => (double)w)]);
    }

    public SpatialField Field { get; }

    public double At(ReadOnlySpan<double> likeness) => SpatialField.Dot(likeness, _weights);

    /// <summary>Adds it to the values of rows; nothing where a place is not known.</summary>
    public void AddTo(Span<double> values, ReadOnlySpan<GeoPoint> places)
    {
        double[] likeness = new double[Field.Count];
        for (int row = 0; row < places.Length; row++)
        {
            if (Field.LikenessOf(places[row], likeness))
                values[row] += At(likeness);
        }
    }
}
