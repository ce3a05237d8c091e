using NetTopologySuite.Geometries;

namespace DecayAtlas.Prediction.Regions;

/// <summary>A picture of what is predicted within one polygon, as large as that of the whole map.</summary>
public static class RegionPicture
{
    /// <summary>Of the longer side of the box round the polygon, what is shown beyond it.</summary>
    private const double Margin = 0.04;

    /// <summary>The PNG's bytes; colours span what the polygon has.</summary>
    /// <param name="options">Those of the map; what the title says is followed by the name of the region.</param>
    /// <exception cref="PredictionException">The file is no map, or has no prediction within the polygon.</exception>
    /// <exception cref="GridException">The map cannot be read.</exception>
    public static byte[] Draw(string mapPath, Region region, ModelCard card, MapSummary summary, MapOptions options)
    {
        MapQuantity of = MapQuantity.Of(card.Target);
        using MapReader map = new(mapPath, of);
        (int west, int north, MapLattice part) = PartOf(map.Lattice, region);
        ThinnedMap raster = new(part.Columns, part.Rows), widths = new(part.Columns, part.Rows, MapInset.MaximumSide);
        RegionCells.ForEach(map, region.Shape, cell =>
        {
            raster.Add(cell.Column - west, cell.Row - north, cell.Value, cell.IsApplicable);
            widths.Add(cell.Column - west, cell.Row - north, of.WidthOf(cell.Lower, cell.Upper), cell.IsApplicable);
        });
        if (raster.Between(0, 1) is null)
            throw new PredictionException($"The map has no prediction within {region.Name}; draw another region.");

        MapWords words = RateMap.WordsOf(card, of, options with { Title = $"{options.Title}: {region.Name}" }, summary) with
        {
            Unpredicted = "sea, covariate missing, beyond",
        };
        return MapPicture.Draw(raster, part, words, RateScale.Of(raster) with { Ramp = of.Ramp, HasHalfLife = of.HasHalfLife },
            options.Sites, inset: RateMap.InsetOf(widths, of));
    }

    /// <summary>The cells round the polygon, and where the first of them lies on the map.</summary>
    private static (int West, int North, MapLattice Part) PartOf(MapLattice map, Region region)
    {
        Envelope box = new();
        foreach (RegionShape shape in RegionShape.On(region.Shape, map))
            box.ExpandToInclude(shape.Box);
        if (box.IsNull)
            throw new PredictionException($"The region {region.Name} lies off the map; draw another.");
        double beyond = Math.Max(1, Margin * Math.Max(box.Width, box.Height));
        (int west, int east) = Within(box.MinX - beyond, box.MaxX + beyond, map.Columns);
        (int north, int south) = Within(box.MinY - beyond, box.MaxY + beyond, map.Rows);
        return (west, north, new MapLattice(map.Projection, map.Cells with
        {
            Columns = east - west,
            Rows = south - north,
            West = map.Cells.West + west * map.Cells.CellWidth,
            North = map.Cells.North - north * map.Cells.CellHeight,
        }, true));
    }

    private static (int From, int To) Within(double from, double to, int cells) =>
        ((int)Math.Clamp(Math.Floor(from), 0, cells - 1), (int)Math.Clamp(Math.Ceiling(to), 1, cells));
}
