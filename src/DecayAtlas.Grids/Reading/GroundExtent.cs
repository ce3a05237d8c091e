namespace DecayAtlas.Grids.Reading;

/// <summary>A box in longitude and latitude, degrees; West is below East, and one of the two may lie beyond 180.</summary>
public sealed record GroundExtent(double WestDegrees, double SouthDegrees, double EastDegrees, double NorthDegrees)
{
    private const int Steps = 60;

    internal static GroundExtent Of(Grid grid)
    {
        GridLattice lattice = grid.Lattice;
        if (grid.Projection.IsGeographic)
            return new GroundExtent(lattice.West, Math.Max(-90, lattice.South), lattice.East, Math.Min(90, lattice.North));

        double west = double.PositiveInfinity, east = double.NegativeInfinity, south = double.PositiveInfinity,
            north = double.NegativeInfinity;
        bool torn = false;
        for (int j = 0; j <= Steps; j++)
        {
            double before = double.NaN;
            for (int i = 0; i <= Steps; i++)
            {
                GeoPoint place = grid.PlaceOf(i * lattice.Columns / (double)Steps, j * lattice.Rows / (double)Steps);
                if (double.IsNaN(place.LatitudeDegrees))
                    continue;

                torn |= Math.Abs(place.LongitudeDegrees - before) > 180;
                before = place.LongitudeDegrees;
                (west, east) = (Math.Min(west, place.LongitudeDegrees), Math.Max(east, place.LongitudeDegrees));
                (south, north) = (Math.Min(south, place.LatitudeDegrees), Math.Max(north, place.LatitudeDegrees));
            }
        }

        bool northPole = grid.TryLocate(new GeoPoint(0, 90), out _, out _), southPole = grid.TryLocate(new GeoPoint(0, -90), out _, out _);
        (west, east) = torn || northPole || southPole ? (-180, 180) : (west, east);
        return new GroundExtent(west, southPole ? -90 : south, east, northPole ? 90 : north);
    }
}
