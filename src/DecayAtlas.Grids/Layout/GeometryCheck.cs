using System.Globalization;

namespace DecayAtlas.Grids.Layout;

/// <summary>What every format asks of a georeference before a grid is opened.</summary>
internal static class GeometryCheck
{
    /// <summary>The geometry, when it lies on the Earth.</summary>
    public static GridGeometry Checked(string path, GridGeometry geometry)
    {
        // Files that store rounded corners may pass the pole by a hair; half a cell is the registration mistake
        // that some global grids really carry, and harmless to sampling.
        double slack = geometry.CellHeightDegrees / 2 + 1e-6;
        bool onEarth = geometry.CellWidthDegrees > 0
            && geometry.CellHeightDegrees > 0
            && geometry.NorthDegrees <= 90 + slack
            && geometry.SouthDegrees >= -90 - slack
            && geometry.WestDegrees >= -360 - geometry.CellWidthDegrees
            && geometry.EastDegrees <= 540 + geometry.CellWidthDegrees
            && geometry.EastDegrees - geometry.WestDegrees <= 360 + geometry.CellWidthDegrees;
        if (onEarth)
            return geometry;

        throw new GridException(string.Create(
            CultureInfo.InvariantCulture,
            $"{path} would reach from {geometry.WestDegrees} to {geometry.EastDegrees} east and from {geometry.SouthDegrees} to "
            + $"{geometry.NorthDegrees} north, ")
            + "which are not degrees on the Earth; check its reference system and its corner coordinates.");
    }

    /// <summary>The lattice, when it can lie on the map of its projection.</summary>
    public static GridLattice Checked(string path, Projection projection, GridLattice lattice)
    {
        if (projection.IsGeographic)
        {
            Checked(path,
                new GridGeometry(lattice.Columns, lattice.Rows, lattice.West, lattice.North, lattice.CellWidth, lattice.CellHeight));
            return lattice;
        }

        // No map of the Earth is wider than a hundred thousand kilometres.
        const double widest = 1e8;
        double unit = projection.Definition.UnitMetres;
        bool sane = lattice.CellWidth > 0 && lattice.CellHeight > 0
            && Math.Abs(lattice.West * unit) < widest && Math.Abs(lattice.East * unit) < widest
            && Math.Abs(lattice.North * unit) < widest && Math.Abs(lattice.South * unit) < widest;
        return sane ? lattice : throw new GridException(string.Create(
            CultureInfo.InvariantCulture,
            $"{path} would reach from {lattice.West} to {lattice.East} and from {lattice.South} to {lattice.North} in {projection.Name}, ")
            + "which is no place on the Earth; check its reference system and its corner coordinates.");
    }

    /// <summary>What is said of a file without a reference system.</summary>
    public const string NamesNone = "names no coordinate reference system";

    /// <summary>The reference system that a catalogue declares for a file that names none.</summary>
    public static Projection Declared(string path, string? declaredCrs)
    {
        if (declaredCrs is null)
        {
            throw new GridException(
                $"{path} {NamesNone}; if its coordinates are WGS 84 longitude and latitude, "
                + "declare crs: EPSG:4326 for it in the catalogue.");
        }

        try
        {
            return Projection.FromText(declaredCrs);
        }
        catch (GridException e)
        {
            throw new GridException($"{path} is declared to be in {declaredCrs}: {e.Message}", e);
        }
    }

    /// <summary>Refuses a catalogue that contradicts what the file says of itself.</summary>
    public static void RequireAgreement(string path, Projection ofFile, string? declaredCrs)
    {
        if (declaredCrs is null)
            return;

        Projection declared = Declared(path, declaredCrs);
        // Degrees are degrees: datums that may stand for WGS 84 may stand for each other.
        bool same = (ofFile.IsGeographic && declared.IsGeographic) || ofFile.Definition.IsSameAs(declared.Definition);
        if (!same)
        {
            throw new GridException(
                $"{path} says that it is in {ofFile.Name}, and the catalogue declares {declaredCrs} for it; take the declaration out "
                + "or correct it.");
        }
    }
}
