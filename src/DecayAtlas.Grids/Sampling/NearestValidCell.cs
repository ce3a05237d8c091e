namespace DecayAtlas.Grids.Sampling;

/// <summary>
/// Finds the cell with a value whose centre is nearest to a point, looking row by row away from the point's own row and,
/// within a row, cell by cell away from its column, until no cell could be nearer than the best found.
/// </summary>
internal static class NearestValidCell
{
    /// <summary>Distances closer than this count as equal, so that rounding does not decide between twins.</summary>
    private const double TieMetres = 1e-6;

    /// <summary>Least metres in a radian of latitude: the radius of curvature of the meridian at the equator, a (1 - e2).</summary>
    private const double LeastMeridianRadius = 6_335_439;

    public static (double Value, double DistanceMetres)? Find(Grid grid, GeoPoint point, CellIndex home, double withinMetres) =>
        grid.Projection.IsGeographic ? FindByRow(grid, point, home, withinMetres) : FindByRing(grid, point, home, withinMetres);

    private static (double Value, double DistanceMetres)? FindByRow(Grid grid, GeoPoint point, CellIndex home, double withinMetres)
    {
        Best best = new(withinMetres);
        for (int north = home.Row, south = home.Row + 1; ;)
        {
            double toNorth = north >= 0 ? LeastDistance(grid, point, home, north) : double.PositiveInfinity;
            double toSouth = south < grid.Rows ? LeastDistance(grid, point, home, south) : double.PositiveInfinity;
            // NaN (a coordinate that is not a number) never gets here; both infinite ends the search.
            if (Math.Min(toNorth, toSouth) > best.Reach)
                return best.Answer;

            SearchRow(grid, point, home.Column, toNorth <= toSouth ? north-- : south++, best);
        }
    }

    private static double LeastDistance(Grid grid, GeoPoint point, CellIndex home, int row)
    {
        double latitude = grid.CentreOf(home.Column, row).LatitudeDegrees;
        return LeastMeridianRadius * double.DegreesToRadians(Math.Abs(latitude - point.LatitudeDegrees));
    }

    private static void SearchRow(Grid grid, GeoPoint point, int homeColumn, int row, Best best)
    {
        int columns = grid.Columns;
        bool round = grid.GoesRoundTheEarth;
        foreach (int direction in (ReadOnlySpan<int>)[-1, 1])
        {
            int steps = round ? columns / 2 : direction < 0 ? homeColumn : columns - 1 - homeColumn;
            for (int step = direction < 0 ? 0 : 1; step <= steps; step++)
            {
                int column = (homeColumn + direction * step + columns) % columns;
                double distance = point.GroundDistanceMetres(grid.CentreOf(column, row));
                if (distance > best.Reach && step > 0)
                    break;

                double value = grid.ReadCell(column, row);
                if (!double.IsNaN(value))
                {
                    best.Offer(value, distance, column, row);
                    break;
                }
            }
        }
    }

    /// <summary>
    /// On a map rows do not keep a latitude: square rings of cells around the point's own, until a whole ring lies further
    /// than the best found. Whatever lies outside a ring is reached only across it, between two of its centres.
    /// </summary>
    private static (double Value, double DistanceMetres)? FindByRing(Grid grid, GeoPoint point, CellIndex home, double withinMetres)
    {
        Best best = new(withinMetres);
        for (int ring = 0; ; ring++)
        {
            double nearest = double.PositiveInfinity;
            bool any = false;
            foreach (CellIndex cell in Ring(grid, home, ring))
            {
                any = true;
                double distance = point.GroundDistanceMetres(grid.CentreOf(cell.Column, cell.Row));
                nearest = double.IsNaN(distance) ? nearest : Math.Min(nearest, distance);
                if (distance <= best.Reach && grid.ReadCell(cell.Column, cell.Row) is var value && !double.IsNaN(value))
                    best.Offer(value, distance, cell.Column, cell.Row);
            }

            // The way across a ring may pass between two centres, one ring nearer than either.
            if (!any || nearest * (ring - 1) / Math.Max(1, ring) > best.Reach)
                return best.Answer;
        }
    }

    private static IEnumerable<CellIndex> Ring(Grid grid, CellIndex home, int ring)
    {
        int widest = grid.GoesRoundTheEarth ? grid.Columns / 2 : int.MaxValue;
        for (int row = Math.Max(0, home.Row - ring); row <= Math.Min(grid.Rows - 1, home.Row + ring); row++)
        {
            bool whole = Math.Abs(row - home.Row) == ring;
            for (int step = -Math.Min(ring, widest); step <= Math.Min(ring, widest); step += whole || ring == 0 ? 1 : 2 * ring)
            {
                int column = home.Column + step;
                column = grid.GoesRoundTheEarth ? (column + grid.Columns) % grid.Columns : column;
                if (column >= 0 && column < grid.Columns)
                    yield return new CellIndex(column, row);
            }
        }
    }

    private sealed class Best(double withinMetres)
    {
        private double _value = double.NaN;
        private double _distance = double.PositiveInfinity;
        private (int Row, int Column) _cell;

        /// <summary>A cell further than this cannot win.</summary>
        public double Reach => Math.Min(withinMetres, _distance + TieMetres);

        public (double Value, double DistanceMetres)? Answer => double.IsNaN(_value) ? null : (_value, _distance);

        public void Offer(double value, double distance, int column, int row)
        {
            bool nearer = distance < _distance - TieMetres;
            bool twinFirst = Math.Abs(distance - _distance) <= TieMetres && (row, column).CompareTo(_cell) < 0;
            if (distance <= withinMetres && (nearer || twinFirst))
                (_value, _distance, _cell) = (value, distance, (row, column));
        }
    }
}
