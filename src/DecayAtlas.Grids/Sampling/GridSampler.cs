using System.Runtime.CompilerServices;

namespace DecayAtlas.Grids.Sampling;

/// <summary>
/// Takes values at points. The cells that all the points need are read in the order of the file's blocks, so that each
/// block is decoded once however the points are ordered; the answers come in the order of the points.
/// </summary>
/// <remarks>
/// <para>
/// Bilinear: the four cell centres around the point. Where one of the four is missing or off the grid there is no
/// honest plane to interpolate on, so the value of the cell that holds the point is taken and the sample says
/// <see cref="SamplingRule.Nearest"/>. On a grid that goes round the Earth the last column neighbours the first.
/// </para>
/// <para>
/// Disc: the sample carries the mean, the standard deviation and the share of the circle that holds values. Mode: of equal classes
/// the lower. Where an interrupted map tears the ground apart, the circle ends at the tear.
/// </para>
/// <para>
/// Where the cell that holds the point (or the whole circle) is missing and a distance is given, the nearest cell with a value is taken
/// whose centre lies within that distance of the point on the ellipsoid; of cells equally far (to a micrometre) the northernmost,
/// then the one with the lowest column. Memory is about 180 bytes a point (100 for nearest) beside the grid's own.
/// </para>
/// </remarks>
public static class GridSampler
{
    public const double MaxRadiusMetres = 1_000_000;

    /// <summary>Samples the grid at every point.</summary>
    /// <param name="validWithinMetres">How far to look for a cell with a value, metres; null does not look.</param>
    /// <param name="radiiMetres">
    /// For <see cref="SamplingRule.Disc"/> and <see cref="SamplingRule.Mode"/>: the uncertainty of each point, metres, at most
    /// <see cref="MaxRadiusMetres"/>. A point without one, or with 0, takes the cell that holds it.
    /// </param>
    /// <exception cref="GridException">The file is damaged, or a circle is too large.</exception>
    public static IReadOnlyList<GridSample> Sample(
        Grid grid, IReadOnlyList<GeoPoint> points, SamplingRule rule, double? validWithinMetres,
        IReadOnlyList<double?>? radiiMetres = null)
    {
        ArgumentNullException.ThrowIfNull(grid);
        ArgumentNullException.ThrowIfNull(points);
        ArgumentOutOfRangeException.ThrowIfNotEqual(radiiMetres?.Count ?? points.Count, points.Count, nameof(radiiMetres));
        bool circles = rule is SamplingRule.Disc or SamplingRule.Mode;
        GridSample[] samples = CellSamples(grid, points, circles ? SamplingRule.Nearest : rule);
        if (circles && radiiMetres is not null)
            TakeCircles(grid, points, rule, radiiMetres, samples);

        FillMissing(grid, points, validWithinMetres, samples);
        return samples;
    }

    private static void TakeCircles(
        Grid grid, IReadOnlyList<GeoPoint> points, SamplingRule rule, IReadOnlyList<double?> radiiMetres, GridSample[] samples)
    {
        int[] asked = [.. Enumerable.Range(0, points.Count)
            .Where(i => radiiMetres[i] is not (null or 0) && samples[i].Status != SampleStatus.Outside)];
        CellIndex[] homes = [.. asked.Select(i => Home(grid, points[i]))];
        foreach (int at in BlockOrder.Of(grid, homes))
        {
            int i = asked[at];
            double radius = radiiMetres[i]!.Value;
            if (!(radius > 0 && radius <= MaxRadiusMetres))
            {
                throw new GridException(
                    $"A point has an uncertainty of {radius} m, and a number of metres up to {MaxRadiusMetres} was expected.");
            }

            samples[i] = DiscSample.Of(grid, points[i], homes[at], rule, radius);
        }
    }

    private static GridSample[] CellSamples(Grid grid, IReadOnlyList<GeoPoint> points, SamplingRule rule)
    {
        int cellsPerPoint = rule == SamplingRule.Bilinear ? 4 : 1;
        CellIndex[] cells = new CellIndex[checked(points.Count * cellsPerPoint)];
        ForEachPortion(points.Count, (from, to) => Locate(grid, points, from, to, cells));
        double[] values = BlockOrder.Read(grid, cells);
        GridSample[] samples = new GridSample[points.Count];
        ForEachPortion(samples.Length, (from, to) => Combine(grid, points, from, to, rule, values, samples));
        return samples;
    }

    // Every point fills its own place, so that the number of cores changes nothing but the time.
    private static void ForEachPortion(int count, Action<int, int> act)
    {
        const int portion = 8192;
        Parallel.For(0, (count + portion - 1) / portion, part => act(part * portion, Math.Min(count, (part + 1) * portion)));
    }

    // What is done for each of a million points is compiled in full at once: a second is over before the runtime would do so by itself.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Locate(Grid grid, IReadOnlyList<GeoPoint> points, int from, int to, CellIndex[] cells)
    {
        int cellsPerPoint = cells.Length / points.Count;
        for (int i = from; i < to; i++)
            Locate(grid, points[i], cells.AsSpan(i * cellsPerPoint, cellsPerPoint));
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Combine(Grid grid, IReadOnlyList<GeoPoint> points, int from, int to, SamplingRule rule, double[] values,
        GridSample[] samples)
    {
        int cellsPerPoint = values.Length / points.Count;
        for (int i = from; i < to; i++)
            samples[i] = Combine(grid, points[i], rule, values.AsSpan(i * cellsPerPoint, cellsPerPoint));
    }

    private static void FillMissing(Grid grid, IReadOnlyList<GeoPoint> points, double? validWithinMetres, GridSample[] samples)
    {
        int[] missing = [.. Enumerable.Range(0, samples.Length).Where(i => samples[i].Status == SampleStatus.Missing)];
        if (validWithinMetres is { } within && missing.Length > 0)
        {
            CellIndex[] homes = [.. missing.Select(i => Home(grid, points[i]))];
            foreach (int at in BlockOrder.Of(grid, homes))
            {
                int i = missing[at];
                if (NearestValidCell.Find(grid, points[i], homes[at], within) is { } found)
                    samples[i] = new GridSample(found.Value, SampleStatus.NearestValid, SamplingRule.Nearest, found.DistanceMetres);
            }
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Locate(Grid grid, GeoPoint point, Span<CellIndex> cells)
    {
        cells.Fill(CellIndex.None);
        if (!grid.TryLocate(point, out double column, out double row))
            return;

        if (cells.Length == 1)
        {
            cells[0] = Holding(grid, column, row);
            return;
        }

        int west = (int)Math.Floor(column - 0.5);
        int north = (int)Math.Floor(row - 0.5);
        for (int k = 0; k < 4; k++)
            cells[k] = Neighbour(grid, west + (k & 1), north + (k >> 1));
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static GridSample Combine(Grid grid, GeoPoint point, SamplingRule rule, ReadOnlySpan<double> values)
    {
        if (!grid.TryLocate(point, out double column, out double row))
            return new GridSample(null, SampleStatus.Outside, rule, null);

        CellIndex home = Holding(grid, column, row);
        double value = values[0];
        if (rule == SamplingRule.Bilinear)
        {
            double eastward = column - 0.5 - Math.Floor(column - 0.5);
            double southward = row - 0.5 - Math.Floor(row - 0.5);
            double north = values[0] * (1 - eastward) + values[1] * eastward;
            double south = values[2] * (1 - eastward) + values[3] * eastward;
            double interpolated = north * (1 - southward) + south * southward;
            if (!double.IsNaN(interpolated))
                return new GridSample(interpolated, SampleStatus.Sampled, SamplingRule.Bilinear, null);

            // The cell that holds the point is always one of the four.
            int k = (home.Column > Math.Floor(column - 0.5) ? 1 : 0) + (home.Row > Math.Floor(row - 0.5) ? 2 : 0);
            value = values[k];
        }

        return double.IsNaN(value)
            ? new GridSample(null, SampleStatus.Missing, SamplingRule.Nearest, null)
            : new GridSample(value, SampleStatus.Sampled, SamplingRule.Nearest, DistanceTo(grid, point, home));
    }

    // The centre of a cell on the rim of a world map may have no ground under it.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static double? DistanceTo(Grid grid, GeoPoint point, CellIndex cell) =>
        point.GroundDistanceMetres(grid.CentreOf(cell.Column, cell.Row)) is var metres && double.IsNaN(metres) ? null : metres;

    private static CellIndex Home(Grid grid, GeoPoint point)
    {
        grid.TryLocate(point, out double column, out double row);
        return Holding(grid, column, row);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static CellIndex Holding(Grid grid, double column, double row) => new(
        (int)Math.Min(Math.Floor(column), grid.Columns - 1),
        (int)Math.Min(Math.Floor(row), grid.Rows - 1));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static CellIndex Neighbour(Grid grid, int column, int row)
    {
        int columns = grid.Columns;
        if (grid.GoesRoundTheEarth)
            column = (column + columns) % columns;

        bool inside = column >= 0 && column < columns && row >= 0 && row < grid.Rows;
        return inside ? new CellIndex(column, row) : CellIndex.None;
    }
}
