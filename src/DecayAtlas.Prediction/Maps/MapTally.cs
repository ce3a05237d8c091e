using DecayAtlas.Grids;

namespace DecayAtlas.Prediction;

/// <summary>Counts cells as they are predicted.</summary>
internal sealed class MapTally
{
    private long cells;
    private long predicted;
    private long outside;
    private double sum;
    private double minimum = double.PositiveInfinity;
    private double maximum = double.NegativeInfinity;

    public void Add(float ratePerDay, bool within)
    {
        cells++;
        if (float.IsNaN(ratePerDay))
            return;
        predicted++;
        if (!within)
            outside++;
        sum += ratePerDay;
        minimum = Math.Min(minimum, ratePerDay);
        maximum = Math.Max(maximum, ratePerDay);
    }

    public MapSummary Summary(GridGeometry geometry, bool clipped)
    {
        double? IfAny(double value) => predicted > 0 ? value : null;
        return new(geometry, cells, predicted, cells - predicted, outside, IfAny(minimum), IfAny(sum / predicted), IfAny(maximum), clipped);
    }
}
