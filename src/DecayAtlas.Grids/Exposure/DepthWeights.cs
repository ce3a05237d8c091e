namespace DecayAtlas.Grids.Exposure;

/// <summary>A layer of soil that one grid describes, in centimetres below the surface.</summary>
internal readonly record struct SoilLayer(double TopCentimetres, double BottomCentimetres);

/// <summary>How much each layer counts for a bag: weights by the length that each shares with the interval it was buried in.</summary>
/// <param name="Weights">A weight for each layer, in the order given; they sum to 1, or to 0 where no layer is touched.</param>
/// <param name="CoveredShare">Share of the interval that layers describe, 0..1.</param>
internal sealed record DepthWeights(IReadOnlyList<double> Weights, double CoveredShare)
{
    /// <summary>Weights of layers over an interval; an interval without thickness takes the layer (or the layers) that hold it.</summary>
    /// <param name="layers">Layers that do not overlap.</param>
    /// <param name="top">Upper end of the bag, cm below the surface.</param>
    /// <param name="bottom">Lower end, not above the upper.</param>
    /// <exception cref="GridException">An end is not a depth, or layers overlap.</exception>
    public static DepthWeights Of(IReadOnlyList<SoilLayer> layers, double top, double bottom)
    {
        if (!(top >= 0 && bottom >= top && double.IsFinite(bottom)))
            throw new GridException($"A bag from {top} to {bottom} cm is no burial; depths from 0 downwards were expected.");

        SoilLayer[] sorted = [.. layers.OrderBy(l => l.TopCentimetres)];
        if (sorted.Any(l => !(l.BottomCentimetres > l.TopCentimetres))
            || sorted.Zip(sorted.Skip(1)).Any(p => p.First.BottomCentimetres > p.Second.TopCentimetres + 1e-9))
        {
            throw new GridException("Soil layers overlap or have no thickness, so that it is open which of them a bag lay in.");
        }

        double length = bottom - top;
        double[] shared = [.. layers.Select(l => length > 0
            ? Math.Max(0, Math.Min(bottom, l.BottomCentimetres) - Math.Max(top, l.TopCentimetres))
            : top >= l.TopCentimetres && top <= l.BottomCentimetres ? 1.0 : 0)];
        double sum = shared.Sum();
        return new([.. shared.Select(s => sum > 0 ? s / sum : 0)], Math.Min(1, length > 0 ? sum / length : sum));
    }
}
