using NetTopologySuite.Geometries;

namespace DecayAtlas.Prediction.Siting;

/// <summary>Draws what one site would tell, square by square, with existing sites and the proposed places.</summary>
internal static class SitePicture
{
    public const string Asks = "Before anybody digs: landowners, protected areas, buried services, access and local rules.";

    public static void Draw(MapReader map, SiteCandidates candidates, double[] gains, SitePlan plan, IReadOnlyList<SitedRegion> regions,
        SiteRequest request, AvoidedAreas avoided, string path)
    {
        (MapLattice window, int west, int north) = WindowOf(map.Lattice, regions);
        ThinnedMap raster = new(window.Columns, window.Rows);
        Dictionary<(string, (int, int)), int> ofSquare = candidates.OfSquare;
        double best = Math.Max(gains.Max(), double.Epsilon);
        foreach (SitedRegion region in regions)
        {
            RegionCells.ForEach(map, region.Shape, cell =>
            {
                (int x, int y) = (cell.Column - west, cell.Row - north);
                if (x >= 0 && y >= 0 && x < window.Columns && y < window.Rows
                    && ofSquare.TryGetValue((region.Name, cell.Square), out int candidate) && avoided.At(cell.Column, cell.Row) is null)
                {
                    raster.Add(x, y, 100 * gains[candidate] / best, cell.IsApplicable);
                }
            });
        }
        GeoPoint[] sites = [.. request.Existing.Where(s => !s.IsHidden).Select(s => s.Place)];
        MapWords words = new(TitleOf(plan), SubtitleOf(plan), Asks)
        {
            Quantity = "Told by one site",
            Unit = "% of the best place's",
            Unpredicted = "not asked for, or left out",
            Dots = "Site",
        };
        byte[] png = MapPicture.Draw(raster, window, words, RateScale.Of(raster), sites, numbered: [.. plan.Sites.Select(s => s.Place)]);
        DurableFile.Write(path, stream => stream.Write(png));
    }

    private static string TitleOf(SitePlan plan) => $"Where to bury next: {(plan.Regions is [var only] ? only
        : $"{plan.Regions.Count} regions")}";

    private static string SubtitleOf(SitePlan plan) => $"Model {plan.ModelId} · release {plan.ReleaseId} · "
        + Invariant($"{Counted.Of(plan.Sites.Count, "site")}: half-width of the mean from {SitePlan.PercentOf(plan.Now.Sum):0.0} to ")
        + Invariant($"{SitePlan.PercentOf(plan.Steps[^1].Chosen):0.0} %");

    /// <summary>The part of a map around regions, with a margin.</summary>
    private static (MapLattice Window, int West, int North) WindowOf(MapLattice lattice, IReadOnlyList<SitedRegion> regions)
    {
        Envelope box = new();
        foreach (SitedRegion region in regions)
        {
            if (region.Shape is null)
                return (lattice, 0, 0);
            foreach (RegionShape shape in RegionShape.On(region.Shape, lattice))
                box.ExpandToInclude(shape.Box);
        }
        double margin = Math.Max(2, 0.05 * Math.Max(box.Width, box.Height));
        int west = (int)Math.Max(0, Math.Floor(box.MinX - margin)), north = (int)Math.Max(0, Math.Floor(box.MinY - margin));
        int east = (int)Math.Min(lattice.Columns, Math.Ceiling(box.MaxX + margin));
        int south = (int)Math.Min(lattice.Rows, Math.Ceiling(box.MaxY + margin));
        GridLattice cells = lattice.Cells;
        return (new(lattice.Projection, new(east - west, south - north, cells.West + west * cells.CellWidth,
            cells.North - north * cells.CellHeight, cells.CellWidth, cells.CellHeight), false), west, north);
    }
}
