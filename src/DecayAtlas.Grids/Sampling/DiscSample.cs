namespace DecayAtlas.Grids.Sampling;

/// <summary>Takes the mean or the commonest class of the cells under the circle of a coordinate's uncertainty.</summary>
internal static class DiscSample
{
    /// <param name="rule"><see cref="SamplingRule.Disc"/> or <see cref="SamplingRule.Mode"/>.</param>
    public static GridSample Of(Grid grid, GeoPoint point, CellIndex home, SamplingRule rule, double radiusMetres)
    {
        List<(double Value, double Weight)> cells = Valid(grid, new(grid, point, radiusMetres), home, out double share);
        if (cells.Count == 0)
            return new GridSample(null, SampleStatus.Missing, rule, null) { ValidShare = 0 };

        double weights = cells.Sum(c => c.Weight);
        if (rule == SamplingRule.Disc)
        {
            double mean = cells.Sum(c => c.Weight * c.Value) / weights;
            double variance = cells.Sum(c => c.Weight * (c.Value - mean) * (c.Value - mean)) / weights;
            return new GridSample(mean, SampleStatus.Sampled, rule, null) { StandardDeviation = Math.Sqrt(variance), ValidShare = share };
        }

        (double value, double weight) = cells.GroupBy(c => c.Value, c => c.Weight)
            .Select(g => (Value: g.Key, Weight: g.Sum()))
            // Equal areas, to a millionth: the lower class.
            .OrderByDescending(g => Math.Round(g.Weight / weights, 6)).ThenBy(g => g.Value).First();
        return new GridSample(value, SampleStatus.Sampled, rule, null)
        {
            ValidShare = share,
            ClassShare = Math.Min(1, weight / weights),
        };
    }

    private static List<(double Value, double Weight)> Valid(Grid grid, DiscOverlap disc, CellIndex home, out double share)
    {
        List<(double Value, double Weight)> cells = [];
        double valid = 0;
        disc.ForEach(home, (cell, area) =>
        {
            double value = grid.ReadCell(cell.Column, cell.Row);
            if (!double.IsNaN(value))
            {
                cells.Add((value, area));
                valid += area;
            }
        });
        share = Math.Min(1, valid / disc.Area);
        return cells;
    }
}
