using DecayAtlas.Grids;

namespace DecayAtlas.Prediction;

/// <summary>
/// The cells of a map: those of the finest covariate whose centres lie in the region. Keeping its lattice means that the
/// finest covariate is read, not resampled.
/// </summary>
internal static class MapLattice
{
    // A cell centre this close to the region's edge, in cells, counts as inside: decimal edges are rarely exact in binary.
    private const double Slack = 1e-6;

    public static (GridGeometry Lattice, bool Clipped) Of(IReadOnlyList<GridGeometry> grids, BoundingBox? asked)
    {
        asked?.Check();
        var common = Intersection(grids);
        if (common.WestDegrees >= common.EastDegrees || common.SouthDegrees >= common.NorthDegrees)
            throw new PredictionException("The covariate grids have no area in common, so there is nothing to map; use grids of one region (longitudes -180 to 180).");
        var region = asked is null ? common : new BoundingBox(
            Math.Max(asked.WestDegrees, common.WestDegrees), Math.Max(asked.SouthDegrees, common.SouthDegrees),
            Math.Min(asked.EastDegrees, common.EastDegrees), Math.Min(asked.NorthDegrees, common.NorthDegrees));
        if (region.WestDegrees >= region.EastDegrees || region.SouthDegrees >= region.NorthDegrees)
            throw new PredictionException($"The map region ({asked}) lies outside the area that all covariate grids share ({common}); choose a region inside it.");
        region.Check();

        var finest = grids.MinBy(g => g.CellWidthDegrees * g.CellHeightDegrees)!;
        double width = finest.CellWidthDegrees, height = finest.CellHeightDegrees;
        long west = (long)Math.Ceiling((region.WestDegrees - finest.WestDegrees) / width - 0.5 - Slack);
        long east = (long)Math.Floor((region.EastDegrees - finest.WestDegrees) / width - 0.5 + Slack);
        long north = (long)Math.Ceiling((finest.NorthDegrees - region.NorthDegrees) / height - 0.5 - Slack);
        long south = (long)Math.Floor((finest.NorthDegrees - region.SouthDegrees) / height - 0.5 + Slack);
        if (east < west || south < north)
            throw new PredictionException($"The map region ({region}) holds no cell centre of the finest covariate grid; choose a region larger than one cell.");
        var lattice = new GridGeometry(
            checked((int)(east - west + 1)), checked((int)(south - north + 1)),
            finest.WestDegrees + west * width, finest.NorthDegrees - north * height, width, height);
        return (lattice, asked is not null && region != asked);
    }

    private static BoundingBox Intersection(IReadOnlyList<GridGeometry> grids) => new(
        // A grid round the Earth has every longitude, wherever its first column lies.
        grids.Max(g => g.GoesRoundTheEarth ? -180 : Tidy(g.WestDegrees)),
        // Grids whose cell centres lie on the poles reach half a cell beyond them.
        Math.Max(-90, grids.Max(g => g.SouthDegrees)),
        grids.Min(g => g.GoesRoundTheEarth ? 180 : Tidy(g.EastDegrees)),
        Math.Min(90, grids.Min(g => g.NorthDegrees)));

    /// <summary>An edge that adding up cell widths put a hair's breadth off the antimeridian lies on it.</summary>
    private static double Tidy(double longitudeDegrees) =>
        Math.Abs(Math.Abs(longitudeDegrees) - 180) < 1e-7 ? Math.CopySign(180, longitudeDegrees) : longitudeDegrees;
}
