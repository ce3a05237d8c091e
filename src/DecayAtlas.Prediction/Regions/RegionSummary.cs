using NetTopologySuite.Geometries;

namespace DecayAtlas.Prediction.Regions;

/// <summary>Sums a map over polygons: areas, area-weighted mean k with an interval, share applicable.</summary>
public static class RegionSummary
{
    /// <summary>One row a polygon, in the order of the file. A cell counts by the share of it that lies in the polygon.</summary>
    /// <param name="model">Of the map.</param>
    /// <param name="covariatesAt">Covariates of the model at places, one array a covariate; not a number where there are none.</param>
    /// <param name="progress">Told "Regions", polygons done, polygons in all.</param>
    /// <exception cref="PredictionException">The file is no map.</exception>
    /// <exception cref="GridException">The map or a grid cannot be read.</exception>
    public static IReadOnlyList<RegionRow> Of(string mapPath, RegionSet regions, RateModel model,
        Func<IReadOnlyList<GeoPoint>, double[][]> covariatesAt, Action<string, int, int>? progress = null) =>
        Of(mapPath, regions, model.Errors, places => ErrorsAt(model, covariatesAt(places), places.Count),
            new MemberMeans(model.Members, model.MemberQuantile), progress);

    /// <param name="errorsAt">Errors at places.</param>
    internal static IReadOnlyList<RegionRow> Of(string mapPath, RegionSet regions, ErrorCorrelation errors,
        Func<IReadOnlyList<GeoPoint>, PlaceErrors> errorsAt, MemberMeans? members, Action<string, int, int>? progress = null)
    {
        using MapReader map = new(mapPath);
        List<RegionRow> rows = new();
        foreach (Region region in regions.Regions)
        {
            rows.Add(RowOf(map, region, errors, errorsAt, members));
            progress?.Invoke("Regions", rows.Count, regions.Regions.Count);
        }
        return rows;
    }

    private static PlaceErrors ErrorsAt(RateModel model, double[][] covariates, int count)
    {
        (double[] local, double[] ofMembers) = model.LocalErrors(covariates, count);
        return new(local, ofMembers);
    }

    private static RegionRow RowOf(MapReader map, Region region, ErrorCorrelation errors,
        Func<IReadOnlyList<GeoPoint>, PlaceErrors> errorsAt, MemberMeans? members)
    {
        Sums sums = new(map.Lattice, new MeanError(errors));
        RegionCells.ForEach(map, region.Shape, sums.Add);
        return sums.Row(region.Name, AreaOf(region.Shape) / 1e6, errorsAt, members);
    }

    /// <summary>Area of a polygon on the ellipsoid, m²: rings inside count off. Sides are followed in steps of a hundredth of a
    /// degree.</summary>
    private static double AreaOf(Geometry shape)
    {
        double area = 0;
        for (int i = 0; i < shape.NumGeometries; i++)
        {
            Polygon polygon = (Polygon)shape.GetGeometryN(i);
            area += RingOf(polygon.ExteriorRing) - polygon.InteriorRings.Sum(RingOf);
        }
        return area;

        // straight in degrees, so a long side must be followed
        static double RingOf(LineString ring) => EllipsoidalArea.OfRing(
            [.. NetTopologySuite.Densify.Densifier.Densify(ring, Math.Max(0.01, ring.Length / 20_000)).Coordinates.SkipLast(1)
                .Select(c => new GeoPoint(c.X, c.Y))]);
    }

    private sealed class Sums(MapLattice lattice, MeanError error)
    {
        private double _area, _rate, _applicableArea, _applicableRate;
        private long _cells;

        public void Add(RegionCell cell)
        {
            double weight = cell.Share * lattice.KnownAreaOf(cell.Column, cell.Row);
            _cells++;
            _area += weight;
            _rate += weight * cell.RatePerDay;
            if (cell.IsApplicable)
            {
                _applicableArea += weight;
                _applicableRate += weight * cell.RatePerDay;
            }
            error.Add(cell.Square, lattice.CentreOf(cell.Column, cell.Row), weight * cell.RatePerDay);
        }

        public RegionRow Row(string name, double squareKilometres, Func<IReadOnlyList<GeoPoint>, PlaceErrors> errorsAt,
            MemberMeans? members)
        {
            if (!(_area > 0))
                return new(name, squareKilometres, 0, null, null, null, null, null, 0, null, null);
            MeanHalfWidths half = error.Result(errorsAt, members);
            double mean = _rate / _area, factor = Math.Exp(half.Sum);
            return new(name, squareKilometres, _area / 1e6, _applicableArea / _area, mean, Known(mean / factor), Known(mean * factor),
                _applicableArea > 0 ? _applicableRate / _applicableArea : null, _cells, Known(half.IndependentCells),
                Known(half.Shared * half.Shared / (half.Sum * half.Sum)));

            static double? Known(double value) => double.IsNaN(value) ? null : value;
        }
    }
}
