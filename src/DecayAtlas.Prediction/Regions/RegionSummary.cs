using NetTopologySuite.Geometries;

namespace DecayAtlas.Prediction.Regions;

/// <summary>Sums a map over polygons: areas, area-weighted mean k or S with an interval, share applicable.</summary>
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
        Of(mapPath, MapQuantity.Of(model.Card.Target), regions, model.Errors, places => ErrorsAt(model, covariatesAt(places), places),
            new MemberMeans(model.Members, model.MemberQuantile), progress);

    /// <param name="of">What the map shows.</param>
    /// <param name="errorsAt">Errors at places.</param>
    internal static IReadOnlyList<RegionRow> Of(string mapPath, MapQuantity of, RegionSet regions, ErrorCorrelation errors,
        Func<IReadOnlyList<GeoPoint>, PlaceErrors> errorsAt, MemberMeans? members, Action<string, int, int>? progress = null)
    {
        using MapReader map = new(mapPath, of);
        List<RegionRow> rows = new();
        foreach (Region region in regions.Regions)
        {
            rows.Add(RowOf(map, of, region, errors, errorsAt, members));
            progress?.Invoke("Regions", rows.Count, regions.Regions.Count);
        }
        return rows;
    }

    private static PlaceErrors ErrorsAt(RateModel model, double[][] covariates, IReadOnlyList<GeoPoint> places)
    {
        (double[] local, double[] ofMembers) = model.LocalErrors(covariates, places);
        return new(local, ofMembers);
    }

    private static RegionRow RowOf(MapReader map, MapQuantity of, Region region, ErrorCorrelation errors,
        Func<IReadOnlyList<GeoPoint>, PlaceErrors> errorsAt, MemberMeans? members)
    {
        Sums sums = new(map.Lattice, of, new MeanError(errors));
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

    private sealed class Sums(MapLattice lattice, MapQuantity of, MeanError error)
    {
        private double _area, _sum, _applicableArea, _applicableSum;
        private long _cells;

        public void Add(RegionCell cell)
        {
            double weight = cell.Share * lattice.KnownAreaOf(cell.Column, cell.Row);
            _cells++;
            _area += weight;
            _sum += weight * cell.Value;
            if (cell.IsApplicable)
            {
                _applicableArea += weight;
                _applicableSum += weight * cell.Value;
            }
            error.Add(cell.Square, lattice.CentreOf(cell.Column, cell.Row),
                // by how much the mean moves with the error of a cell: an error of ln k moves k by k times as much
                of.IsRatio ? weight * cell.Value : weight);
        }

        public RegionRow Row(string name, double squareKilometres, Func<IReadOnlyList<GeoPoint>, PlaceErrors> errorsAt,
            MemberMeans? members)
        {
            if (!(_area > 0))
            {
                return new(name, squareKilometres, 0, null, null, null, null, null, 0, null, null)
                {
                    Stabilisation = of.IsRatio ? null : new(null, null, null, null),
                };
            }

            MeanHalfWidths half = error.Result(errorsAt, members);
            double mean = _sum / _area, factor = Math.Exp(half.Sum);
            (double? lower, double? upper) = of.IsRatio ? (Known(mean / factor), Known(mean * factor))
                : (Known(mean - half.Sum), Known(mean + half.Sum));
            double? applicable = _applicableArea > 0 ? _applicableSum / _applicableArea : null;
            RegionRow row = new(name, squareKilometres, _area / 1e6, _applicableArea / _area, mean, lower, upper, applicable, _cells,
                Known(half.IndependentCells), Known(half.Shared * half.Shared / (half.Sum * half.Sum)));
            return of.IsRatio ? row : row with
            {
                MeanRatePerDay = null,
                MeanLowerRatePerDay = null,
                MeanUpperRatePerDay = null,
                ApplicableMeanRatePerDay = null,
                Stabilisation = new(mean, lower, upper, applicable),
            };

            static double? Known(double value) => double.IsNaN(value) ? null : value;
        }
    }
}
