namespace DecayAtlas.Prediction;

/// <summary>Counts cells and their areas as they are predicted.</summary>
internal sealed class MapTally(MapLattice lattice)
{
    private readonly double[] areaOfRow = lattice.Projection.IsGeographic ? [.. Enumerable.Range(0, lattice.Rows).Select(r => lattice.AreaOf(0, r))] : [];
    private readonly double sameArea = lattice.Projection.IsEqualArea ? lattice.AreaOf(0, 0) : double.NaN;
    private long predicted;
    private long applicable;
    private double sum;
    private double area;
    private double applicableArea;
    private double minimum = double.PositiveInfinity;
    private double maximum = double.NegativeInfinity;

    public void Add(int column, int row, float ratePerDay, bool isApplicable)
    {
        // a cell with a corner off the map has no area that could be told
        double here = areaOfRow.Length > 0 ? areaOfRow[row] : !double.IsNaN(sameArea) ? sameArea : lattice.AreaOf(column, row) is var a && double.IsNaN(a) ? 0 : a;
        predicted++;
        sum += ratePerDay * here;
        area += here;
        if (isApplicable)
        {
            applicable++;
            applicableArea += here;
        }
        minimum = Math.Min(minimum, ratePerDay);
        maximum = Math.Max(maximum, ratePerDay);
    }

    public MapSummary Summary(string modelId, IReadOnlyDictionary<string, string> resampling)
    {
        double? IfAny(double value) => predicted > 0 && double.IsFinite(value) ? value : null;
        return new(modelId, lattice.Projection.Name, lattice.Cells, resampling, lattice.Count, predicted, lattice.Count - predicted, applicable,
            area / 1e6, applicableArea / 1e6, IfAny(minimum), IfAny(sum / area), IfAny(maximum), lattice.IsClipped);
    }
}
