namespace DecayAtlas.Prediction.Joint;

/// <summary>Sums areas of the classes, and how k and S go together, over the cells that both maps apply to.</summary>
internal sealed class JointTally(MapLattice lattice, JointCuts cuts, int every)
{
    private readonly double[] _areas = new double[JointClass.All.Count], _told = new double[JointClass.All.Count];
    private double _predicted, _count, _x, _y, _xx, _yy, _xy;

    public void Add(JointCell cell, JointClass of, bool isTold)
    {
        double ground = lattice.KnownAreaOf(cell.Column, cell.Row) / 1e6;
        _predicted += ground;
        if (!cell.IsApplicable)
            return;
        _areas[of.Code - 1] += ground;
        if (isTold)
            _told[of.Code - 1] += ground;
        // about the cuts, so that no digits are lost
        double x = Math.Log(cell.Rate / cuts.RatePerDay), y = cell.Stabilisation - cuts.Stabilisation;
        _count++;
        (_x, _y, _xx, _yy, _xy) = (_x + x, _y + y, _xx + x * x, _yy + y * y, _xy + x * y);
    }

    public JointSummary Summary(ModelCard rate, ModelCard stabilisation)
    {
        double correlation = (_xy - _x * _y / _count) / Math.Sqrt((_xx - _x * _x / _count) * (_yy - _y * _y / _count));
        return new(rate.ModelId, stabilisation.ModelId, rate.ReleaseId, cuts, every, _predicted, _areas.Sum(), _told.Sum(),
            double.IsFinite(correlation) ? correlation : null,
            [.. JointClass.All.Select(c => new JointShare(c.Code, c.Name, _areas[c.Code - 1], _told[c.Code - 1]))]);
    }
}
