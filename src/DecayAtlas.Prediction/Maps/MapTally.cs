namespace DecayAtlas.Prediction.Maps;

/// <summary>Counts cells and their areas as they are predicted.</summary>
internal sealed class MapTally(MapLattice lattice)
{
    private readonly double[] _areaOfRow = lattice.Projection.IsGeographic
        ? [.. Enumerable.Range(0, lattice.Rows).Select(r => lattice.AreaOf(0, r))] : [];
    private readonly double _sameArea = lattice.Projection.IsEqualArea ? lattice.AreaOf(0, 0) : double.NaN;
    private long _predicted, _applicable;
    private double _sum, _area, _applicableArea, _minimum = double.PositiveInfinity, _maximum = double.NegativeInfinity;

    public void Add(int column, int row, float ratePerDay, bool isApplicable)
    {
        double here = _areaOfRow.Length > 0 ? _areaOfRow[row] : !double.IsNaN(_sameArea) ? _sameArea : lattice.KnownAreaOf(column, row);
        _predicted++;
        _sum += ratePerDay * here;
        _area += here;
        if (isApplicable)
        {
            _applicable++;
            _applicableArea += here;
        }
        _minimum = Math.Min(_minimum, ratePerDay);
        _maximum = Math.Max(_maximum, ratePerDay);
    }

    private readonly List<double> _shifts = [];

    /// <param name="withoutNoted">k predicted without noted records (d⁻¹), of a cell in which that was asked.</param>
    public void AddWithoutNoted(float ratePerDay, float withoutNoted) =>
        _shifts.Add(Math.Abs(Math.Log((double)withoutNoted / ratePerDay)));

    private MapShift? ShiftOf(int every)
    {
        if (_shifts.Count == 0)
            return null;
        double[] sorted = [.. _shifts.Order()];
        return new(every, sorted.Length, Factor(0.5), Factor(0.95), Factor(1));

        double Factor(double share) => Math.Exp(Applicability.Quantile(sorted, share));
    }

    public MapSummary Summary(string modelId, IReadOnlyDictionary<string, string> resampling, int everyAsked)
    {
        double? IfAny(double value) => _predicted > 0 && double.IsFinite(value) ? value : null;
        return new(modelId, lattice.Projection.Name, lattice.Cells, resampling, lattice.Count, _predicted, lattice.Count - _predicted,
            _applicable, _area / 1e6, _applicableArea / 1e6, IfAny(_minimum), IfAny(_sum / _area), IfAny(_maximum), lattice.IsClipped)
        {
            WithoutNoted = ShiftOf(everyAsked),
        };
    }
}
