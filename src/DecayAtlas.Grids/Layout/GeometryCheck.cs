namespace DecayAtlas.Grids.Layout;

/// <summary>What every format asks of a georeference before a grid is opened.</summary>
internal static class GeometryCheck
{
    /// <summary>The lattice, when it can lie on the Earth or on the map of its projection.</summary>
    public static GridLattice Checked(string path, Projection projection, GridLattice lattice)
    {
        string place;
        if (projection.IsGeographic)
        {
            // Files that store rounded corners may pass the pole by a hair; half a cell is the registration mistake
            // that some global grids really carry, and harmless to sampling.
            double slack = lattice.CellHeight / 2 + 1e-6;
            if (lattice.CellWidth > 0 && lattice.CellHeight > 0 && lattice.North <= 90 + slack && lattice.South >= -90 - slack
                && lattice.West >= -360 - lattice.CellWidth && lattice.East <= 540 + lattice.CellWidth
                && lattice.East - lattice.West <= 360 + lattice.CellWidth)
            {
                return lattice;
            }

            place = $"{lattice.East} east and from {lattice.South} to {lattice.North} north, which are not degrees";
        }
        else
        {
            // No map of the Earth is wider than a hundred thousand kilometres.
            const double widest = 1e8;
            double[] edges = [lattice.West, lattice.East, lattice.North, lattice.South];
            if (lattice.CellWidth > 0 && lattice.CellHeight > 0 && edges.All(e => Math.Abs(e * projection.UnitMetres) < widest))
                return lattice;

            place = $"{lattice.East} and from {lattice.South} to {lattice.North} in {projection.Name}, which is no place";
        }

        throw new GridException($"{path} would reach from {lattice.West} to {place} on the Earth; check its reference system and its "
            + "corner coordinates.");
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
        if (declaredCrs is not null && !ofFile.IsSameAs(Declared(path, declaredCrs)))
        {
            throw new GridException(
                $"{path} says that it is in {ofFile.Name}, and the catalogue declares {declaredCrs} for it; take the declaration out "
                + "or correct it.");
        }
    }
}
