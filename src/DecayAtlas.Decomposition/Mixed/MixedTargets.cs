namespace DecayAtlas.Decomposition.Mixed;

/// <summary>Predicted values of a factor's units with their prediction error variances, from the entries of M⁻¹ that one record's unknowns
/// meet in.</summary>
internal sealed class MixedTargets
{
    private readonly MixedDesign _design;
    private readonly int _factor;
    private readonly int[][] _unitsTogether;
    private readonly double[][] _fixedRows;
    private readonly (int Burials, double Sum)[] _raw;

    /// <param name="together">Factors whose unit is one and the same in all records of a unit.</param>
    public MixedTargets(MixedDesign design, int factor, int[] together)
    {
        _design = design;
        _factor = factor;
        if (factor >= design.Factors.Length || together.Any(t => t >= design.Factors.Length))
            throw new ArgumentException("The residual has no units.", nameof(factor));
        Units = design.UnitNames[factor].Length;
        _fixedRows = [.. Enumerable.Range(0, Units).Select(_ => new double[design.Width])];
        _raw = new (int, double)[2 * Units];
        int[] factors = [factor, .. together];
        _unitsTogether = [.. Enumerable.Range(0, Units).Select(_ => Array.Empty<int>())];
        int[] counts = new int[Units];
        for (int i = 0; i < design.Records.Length; i++)
        {
            MixedRecord record = design.Records[i];
            int unit = design.UnitOf[factor][i];
            if (unit < 0)
                continue;
            int[] units = [.. factors.Select(f => design.UnitOf[f][i])];
            if (_unitsTogether[unit].Length > 0 && !_unitsTogether[unit].SequenceEqual(units))
                throw new ArgumentException($"{NameOf(unit)} stands in several units of a factor named with it.", nameof(together));
            _unitsTogether[unit] = units;
            counts[unit] += record.Count;
            for (int j = 0; j < design.Width; j++)
                _fixedRows[unit][j] += record.Count * record.FixedEffects[j];
            Add(2 * unit, record.FirstIsAtLeast ? null : record.First);
            if (design.Outcomes > 1)
                Add(2 * unit + 1, record.Second);

            void Add(int place, double? value)
            {
                if (value is { } y)
                    _raw[place] = (_raw[place].Burials + record.Count, _raw[place].Sum + record.Count * y);
            }
        }

        for (int u = 0; u < Units; u++)
        {
            for (int j = 0; j < design.Width; j++)
                _fixedRows[u][j] /= counts[u];
        }

        Factors = factors;
    }

    public int Units { get; }

    private int[] Factors { get; }

    public string NameOf(int unit) => _design.UnitNames[_factor][unit];

    /// <summary>Where a unit's value stands in <see cref="At"/>; its prediction error variance follows.</summary>
    public int Place(int unit, int outcome) => 2 * (outcome * Units + unit);

    public (int Burials, double? Mean, double Fixed) Describe(int unit, int outcome, MixedLikelihood likelihood)
    {
        (int burials, double sum) = _raw[2 * unit + outcome];
        double value = 0;
        for (int j = 0; j < _design.Width; j++)
            value += _fixedRows[unit][j] * likelihood.Solution[_design.FixedStart + outcome * _design.Width + j];
        return (burials, burials > 0 ? sum / burials : null, value);
    }

    /// <summary>Values and prediction error variances of all units, of scaled outcomes.</summary>
    public double[] At(MixedLikelihood likelihood)
    {
        double[] values = new double[2 * _design.Outcomes * Units];
        for (int o = 0; o < _design.Outcomes; o++)
        {
            for (int u = 0; u < Units; u++)
            {
                (int Unknown, double Weight)[] parts = [.. PartsOf(u, o, likelihood.Loadings)];
                int at = Place(u, o);
                foreach ((int i, double a) in parts)
                {
                    values[at] += a * likelihood.Solution[i];
                    foreach ((int j, double b) in parts)
                        values[at + 1] += a * b * likelihood.InverseAt(i, j);
                }
            }
        }

        return values;
    }

    private IEnumerable<(int Unknown, double Weight)> PartsOf(int unit, int outcome, double[] loadings)
    {
        for (int f = 0; f < Factors.Length; f++)
        {
            if (_unitsTogether[unit][f] < 0)
                continue;
            int first = _design.FirstUnknown[Factors[f]][_unitsTogether[unit][f]];
            for (int c = 0; c < _design.Outcomes; c++)
                yield return (first + c, loadings[MixedParameters.Place(Factors[f], outcome, c)]);
        }

        for (int j = 0; j < _design.Width; j++)
            yield return (_design.FixedStart + outcome * _design.Width + j, _fixedRows[unit][j]);
    }
}
