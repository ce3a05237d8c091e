namespace DecayAtlas.Grids.Exposure;

/// <summary>A layer of soil that one grid describes, in centimetres below the surface.</summary>
public readonly record struct SoilLayer(double TopCentimetres, double BottomCentimetres);

/// <summary>How much each layer counts for a bag.</summary>
/// <param name="Weights">A weight for each layer, in the order given; they sum to 1, or to 0 where no layer is touched.</param>
/// <param name="CoveredShare">Share of the interval that layers describe, 0..1.</param>
public sealed record DepthWeighting(IReadOnlyList<double> Weights, double CoveredShare)
{
    /// <summary>Weighted mean of the layers' values; null where no layer is touched or a touched layer has no value.</summary>
    public double? Mean(IReadOnlyList<double?> values)
    {
        ArgumentNullException.ThrowIfNull(values);
        ArgumentOutOfRangeException.ThrowIfNotEqual(values.Count, Weights.Count, nameof(values));
        double sum = 0;
        for (int i = 0; i < Weights.Count; i++)
        {
            if (Weights[i] > 0)
            {
                if (values[i] is not { } value)
                    return null;

                sum += Weights[i] * value;
            }
        }

        return CoveredShare > 0 ? sum : null;
    }
}

/// <summary>Weights soil layers by the length that they share with the interval a bag was buried in.</summary>
public static class DepthWeights
{
    /// <summary>Weights of layers over an interval; an interval without thickness takes the layer (or the layers) that hold it.</summary>
    /// <param name="layers">Layers that do not overlap.</param>
    /// <param name="topCentimetres">Upper end of the bag, cm below the surface.</param>
    /// <param name="bottomCentimetres">Lower end, not above the upper.</param>
    /// <exception cref="GridException">An end is not a depth, or layers overlap.</exception>
    public static DepthWeighting Of(IReadOnlyList<SoilLayer> layers, double topCentimetres, double bottomCentimetres)
    {
        ArgumentNullException.ThrowIfNull(layers);
        if (!(topCentimetres >= 0 && bottomCentimetres >= topCentimetres && double.IsFinite(bottomCentimetres)))
        {
            throw new GridException($"A bag from {topCentimetres} to {bottomCentimetres} cm is no burial; depths from 0 downwards were "
                + "expected.");
        }

        SoilLayer[] sorted = [.. layers.OrderBy(l => l.TopCentimetres)];
        if (sorted.Any(l => !(l.BottomCentimetres > l.TopCentimetres))
            || sorted.Zip(sorted.Skip(1)).Any(p => p.First.BottomCentimetres > p.Second.TopCentimetres + 1e-9))
        {
            throw new GridException("Soil layers overlap or have no thickness, so that it is open which of them a bag lay in.");
        }

        double length = bottomCentimetres - topCentimetres;
        double[] shared = [.. layers.Select(l => length > 0
            ? Math.Max(0, Math.Min(bottomCentimetres, l.BottomCentimetres) - Math.Max(topCentimetres, l.TopCentimetres))
            : topCentimetres >= l.TopCentimetres && topCentimetres <= l.BottomCentimetres ? 1.0 : 0)];
        double sum = shared.Sum();
        double covered = length > 0 ? Math.Min(1, sum / length) : Math.Min(1, sum);
        return new DepthWeighting([.. shared.Select(s => sum > 0 ? s / sum : 0)], covered);
    }
}
