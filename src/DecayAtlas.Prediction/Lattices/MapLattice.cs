namespace DecayAtlas.Prediction.Lattices;

/// <summary>The cells of a map, in a reference system.</summary>
/// <param name="IsClipped">Whether the region asked for reached beyond the grids and was cut to them.</param>
public sealed record MapLattice(Projection Projection, GridLattice Cells, bool IsClipped) : GroundLattice(Projection, Cells)
{
    /// <summary>Most cells of a map: the whole Earth at 20 seconds of arc. More than that is a slip of the decimal point.</summary>
    public const long MaxCells = 2_200_000_000;

    // A cell centre this close to the region's edge, in cells, counts as inside: decimal edges are rarely exact in binary.
    private const double Slack = 1e-6;

    public static MapLattice OfBox(BoundingBox box, int columns, int rows) => new(
        Projection.Wgs84,
        new(columns, rows, box.WestDegrees, box.NorthDegrees, box.WidthDegrees / columns, (box.NorthDegrees - box.SouthDegrees) / rows),
        false);

    /// <param name="crs">A code or well-known text; null keeps that of the finest grid.</param>
    /// <param name="cellSize">In the unit of the reference system; null keeps the cells of the finest grid, so that it is read and not
    /// resampled.</param>
    /// <exception cref="PredictionException">There is nothing to map, the reference system is not known, or the request makes no
    /// sense.</exception>
    public static MapLattice Of(IReadOnlyList<Grid> grids, MapRegion region, string? crs, double? cellSize)
    {
        region.Extent?.Check();
        Grid finest = grids.MinBy(GroundCell)!;
        // degrees without a code of their own stand for WGS 84
        Projection projection = crs is not null ? Asked(crs)
            : finest.Projection is { IsGeographic: true, Code: null } ? Projection.Wgs84 : finest.Projection;
        bool asFinest = projection.IsSameAs(finest.Projection) && cellSize is null;
        if (!asFinest && cellSize is null)
        {
            throw PredictionException.OfRequest(
                $"The map is to be in {projection.Name} while the finest grid is in {finest.Projection.Name}, so the size of its cells "
                + $"must be stated: add cell_size, in the unit of {projection.Name}.");
        }

        if (cellSize is { } size && !(size > 0 && double.IsFinite(size)))
        {
            throw PredictionException.OfRequest(
                Invariant($"The cell size {size} is no size; give a number above 0 in the unit of {projection.Name}."));
        }

        BoundingBox common = grids.Select(ExtentOf)
            .Aggregate((BoundingBox?)new BoundingBox(-180, -90, 180, 90), (shared, one) => shared?.Shared(one))
            ?? throw new PredictionException(
                "The covariate grids have no area in common, so there is nothing to map; use grids of one region.");
        BoundingBox? asked = region.Extent;
        BoundingBox box = asked is null ? common : asked.Shared(common)
            ?? throw PredictionException.OfRequest(
                $"The map region ({asked}) lies outside the area that all covariate grids share ({common}); choose a region inside it.");
        bool clipped = asked is not null
            && (box.WidthDegrees < asked.WidthDegrees - Slack || box.NorthDegrees < asked.NorthDegrees - Slack
                || box.SouthDegrees > asked.SouthDegrees + Slack);

        (double west, double south, double east, double north) = projection.IsGeographic
            ? (box.WestDegrees, box.SouthDegrees, box.WestDegrees + box.WidthDegrees, box.NorthDegrees)
            : Projected(box, projection);
        foreach (Grid grid in grids.Where(g => !g.Projection.IsGeographic && g.Projection.IsSameAs(projection)))
        {
            GridLattice own = grid.Lattice;
            (west, south) = (Math.Max(west, own.West), Math.Max(south, own.South));
            (east, north) = (Math.Min(east, own.East), Math.Min(north, own.North));
        }

        (double width, double height) = asFinest ? (finest.Lattice.CellWidth, finest.Lattice.CellHeight)
            : (cellSize!.Value, cellSize.Value);
        (double originX, double originY) = asFinest ? (finest.Lattice.West, finest.Lattice.North)
            : projection.IsGeographic ? (-180, 90) : (0, 0);
        double first = Math.Ceiling((west - originX) / width - 0.5 - Slack), last = Math.Floor((east - originX) / width - 0.5 + Slack);
        double top = Math.Ceiling((originY - north) / height - 0.5 - Slack), bottom = Math.Floor((originY - south) / height - 0.5 + Slack);
        double columns = last - first + 1, rows = bottom - top + 1;
        if (!(columns >= 1 && rows >= 1))
        {
            throw PredictionException.OfRequest($"The map region ({region}) holds no cell centre of the map, whose cells are "
                + $"{Text(width)} x {Text(height)} in {projection.Name}; choose a larger region or smaller cells.");
        }

        if (!(columns * rows <= MaxCells))
        {
            throw PredictionException.OfRequest(
                Invariant($"The map would have {columns:0} x {rows:0} cells, more than the {MaxCells} that one map may have; use cells ")
                + $"larger than {Text(width)} (in {projection.Name}) or a smaller region.");
        }

        return new(projection, new GridLattice((int)columns, (int)rows, originX + first * width, originY - top * height, width, height),
            clipped);
    }

    /// <summary>Square metres of a cell; 0 for one with a corner off the map, which has none that could be told.</summary>
    public double KnownAreaOf(int column, int row) => AreaOf(column, row) is var area && double.IsNaN(area) ? 0 : area;

    private static Projection Asked(string crs)
    {
        try
        {
            return Projection.FromText(crs);
        }
        catch (GridException e)
        {
            // a grid's advice, to warp it, would mislead here
            throw PredictionException.OfRequest(crs.Contains('[')
                ? $"The map's reference system (crs) cannot be used: {e.Message}"
                : $"The map's reference system (crs) {crs} is none of those known here; state another code, as EPSG:3035, or "
                + "well-known text (WKT).", e);
        }
    }

    private static string Text(double value) => Invariant($"{value:0.##########}");

    /// <summary>Square metres of a cell in the middle of a grid.</summary>
    private static double GroundCell(Grid grid)
    {
        double cell = grid.Lattice.CellWidth * grid.Lattice.CellHeight, unit = grid.Projection.UnitMetres;
        // grids of degrees that cover different latitudes are compared by their degrees
        if (grid.Projection.IsGeographic)
            return cell * 111_195 * 111_195;
        double area = EllipsoidalArea.OfCell(grid.Projection, grid.Lattice, grid.Columns / 2, grid.Rows / 2);
        return double.IsNaN(area) ? cell * unit * unit : area;
    }

    private static BoundingBox ExtentOf(Grid grid)
    {
        GroundExtent extent = grid.Extent();
        bool round = grid.GoesRoundTheEarth || extent.EastDegrees - extent.WestDegrees >= 360 - 1e-7;
        return round
            ? new(-180, Math.Max(-90, extent.SouthDegrees), 180, Math.Min(90, extent.NorthDegrees))
            : new(Turned(extent.WestDegrees), extent.SouthDegrees, Turned(extent.EastDegrees), extent.NorthDegrees);
    }

    /// <summary>A longitude in -180..180; an edge that adding up cell widths put a hair's breadth off the antimeridian lies on
    /// it.</summary>
    private static double Turned(double longitude)
    {
        double turned = longitude > 180 + 1e-7 ? longitude - 360 : longitude < -180 - 1e-7 ? longitude + 360 : longitude;
        return Math.Abs(Math.Abs(turned) - 180) < 1e-7 ? Math.CopySign(180, turned) : turned;
    }

    /// <summary>The box around a region in map coordinates, found by walking along a net of its places.</summary>
    private static (double West, double South, double East, double North) Projected(BoundingBox box, Projection projection)
    {
        const int steps = 120;
        double west = double.PositiveInfinity, south = double.PositiveInfinity, east = double.NegativeInfinity,
            north = double.NegativeInfinity;
        for (int i = 0; i <= steps; i++)
        {
            for (int j = 0; j <= steps; j++)
            {
                GeoPoint place = new(box.WestDegrees + box.WidthDegrees * i / steps,
                    box.SouthDegrees + (box.NorthDegrees - box.SouthDegrees) * j / steps);
                if (!projection.TryProject(place, out double x, out double y))
                    continue;
                (west, east, south, north) = (Math.Min(west, x), Math.Max(east, x), Math.Min(south, y), Math.Max(north, y));
            }
        }
        return west < east && south < north ? (west, south, east, north)
            : throw PredictionException.OfRequest($"The map region ({box}) does not lie on a map in {projection.Name}; choose another "
            + "reference system.");
    }
}
