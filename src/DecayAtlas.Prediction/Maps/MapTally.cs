namespace DecayAtlas.Prediction.Maps;

/// <summary>Counts cells and their areas as they are predicted.</summary>
internal sealed class MapTally(MapLattice lattice, MapQuantity of)
{
    private readonly double[] _areaOfRow = lattice.Projection.IsGeographic
        ? [.. Enumerable.Range(0, lattice.Rows).Select(r => lattice.AreaOf(0, r))] : [];
    private readonly double _sameArea = lattice.Projection.IsEqualArea ? lattice.AreaOf(0, 0) : double.NaN;
    private long _predicted, _applicable, _belowZero, _aboveOne;
    private double _sum, _area, _applicableArea, _minimum = double.PositiveInfinity, _maximum = double.NegativeInfinity;

    public void Add(int column, int row, float value, bool isApplicable)
    {
        double here = _areaOfRow.Length > 0 ? _areaOfRow[row] : !double.IsNaN(_sameArea) ? _sameArea : lattice.KnownAreaOf(column, row);
        _predicted++;
        _sum += value * here;
        _area += here;
        if (isApplicable)
        {
            _applicable++;
            _applicableArea += here;
        }
        _minimum = Math.Min(_minimum, value);
        _maximum = Math.Max(_maximum, value);
        _belowZero += value < 0 ? 1 : 0;
        _aboveOne += value > 1 ? 1 : 0;
    }

    private readonly List<double> _shifts = [];

    /// <param name="withoutNoted">What is predicted without noted records, of a cell in which that was asked.</param>
    public void AddWithoutNoted(float value, float withoutNoted) =>
        _shifts.Add(Math.Abs(of.IsRatio ? Math.Log((double)withoutNoted / value) : (double)withoutNoted - value));

    private MapShift? ShiftOf(int every)
    {
        if (_shifts.Count == 0)
            return null;
        double[] sorted = [.. _shifts.Order()];
        double median = Shift(0.5), most = Shift(0.95), largest = Shift(1);
        return of.IsRatio ? new(every, sorted.Length, Math.Exp(median), Math.Exp(most), Math.Exp(largest))
            : new(every, sorted.Length, null, null, null)
            {
                MedianDifference = median,
                Difference95 = most,
                LargestDifference = largest,
            };

        double Shift(double share) => Applicability.Quantile(sorted, share);
    }

    public MapSummary Summary(string modelId, IReadOnlyDictionary<string, string> resampling, int everyAsked)
    {
        bool isRate = of.Target == PredictionTarget.DecayRate, isAny = _predicted > 0;
        double? IfAny(double value) => isRate && isAny && double.IsFinite(value) ? value : null;
        return new(modelId, lattice.Projection.Name, lattice.Cells, resampling, lattice.Count, _predicted, lattice.Count - _predicted,
            _applicable, _area / 1e6, _applicableArea / 1e6, IfAny(_minimum), IfAny(_sum / _area), IfAny(_maximum), lattice.IsClipped)
        {
            Stabilisation = isAny && !isRate ? new(_minimum, _sum / _area, _maximum, _belowZero, _aboveOne) : null,
            WithoutNoted = ShiftOf(everyAsked),
        };
    }
}
