namespace DecayAtlas.Grids.Projections;

/// <summary>
/// Brings a definition read from a file, whose absent parameters are NaN, to the one form that the formulas expect, and
/// refuses one that lacks what its projection needs.
/// </summary>
internal static class Completed
{
    /// <param name="southByName">Whether the name of a polar method says that it is around the south pole.</param>
    public static CrsDefinition Of(CrsDefinition crs, bool southByName = false)
    {
        double origin = Or(crs.LatitudeOfOrigin, 0);
        switch (crs.Method)
        {
            case ProjectionMethod.Albers:
                if (double.IsNaN(crs.Parallel1))
                    throw new GridException($"The reference system {crs.Name} lacks its first standard parallel.");

                crs = crs with { LatitudeOfOrigin = origin, Parallel2 = Or(crs.Parallel2, crs.Parallel1) };
                RequireCone(crs);
                break;
            case ProjectionMethod.LambertConformal:
                // One standard parallel: the origin lies on it.
                double first = Or(crs.Parallel1, origin);
                (origin, double second) = (Or(crs.LatitudeOfOrigin, first), Or(crs.Parallel2, first));
                crs = crs with { LatitudeOfOrigin = origin, Parallel1 = first, Parallel2 = second };
                RequireCone(crs);
                break;
            case ProjectionMethod.PolarStereographic:
                crs = Polar(crs, southByName);
                break;
            case ProjectionMethod.Mercator or ProjectionMethod.CylindricalEqualArea:
                crs = crs with { LatitudeOfOrigin = 0, Parallel1 = Or(crs.Parallel1, 0), Parallel2 = 0 };
                if (origin != 0)
                {
                    throw new GridException(
                        $"The reference system {crs.Name} has its origin at latitude {origin}, and the equator was expected.");
                }

                break;
            default:
                crs = crs with { LatitudeOfOrigin = origin, Parallel1 = 0, Parallel2 = 0 };
                break;
        }

        double[] all = [crs.LongitudeOfOrigin, crs.LatitudeOfOrigin, crs.Parallel1, crs.Parallel2, crs.Scale, crs.FalseEasting,
            crs.FalseNorthing, crs.UnitMetres];
        bool sane = all.All(double.IsFinite) && Math.Abs(crs.LatitudeOfOrigin) <= 90 && Math.Abs(crs.Parallel1) <= 90
            && Math.Abs(crs.Parallel2) <= 90
            && Math.Abs(crs.LongitudeOfOrigin) <= 720 && crs.Scale is > 0.01 and < 100 && crs.Ellipsoid.A is > 1 and < 1e8;
        return sane ? crs
            : throw new GridException($"The reference system {crs.Name} has parameters that no map has; the file is damaged.");
    }

    private static CrsDefinition Polar(CrsDefinition crs, bool southByName)
    {
        double origin = crs.LatitudeOfOrigin;
        // Version 1 of the text has the true parallel where others have the origin.
        double parallel = Or(crs.Parallel1, Or(origin, southByName ? -90 : 90));
        bool north = double.IsNaN(origin) ? parallel > 0 && !southByName : origin > 0;
        if (parallel == 0 || origin == 0)
            throw new GridException($"The reference system {crs.Name} is a polar stereographic one and names neither pole.");

        return crs with { LatitudeOfOrigin = north ? 90 : -90, Parallel1 = parallel, Parallel2 = 0 };
    }

    private static void RequireCone(CrsDefinition crs)
    {
        if (Math.Abs(crs.Parallel1 + crs.Parallel2) < 1e-9 || Math.Abs(crs.Parallel1) >= 90 || Math.Abs(crs.Parallel2) >= 90)
        {
            throw new GridException(
                $"The reference system {crs.Name} has standard parallels {crs.Parallel1} and {crs.Parallel2}, on which no "
                + "cone stands.");
        }
    }

    private static double Or(double value, double otherwise) => double.IsNaN(value) ? otherwise : value;
}
