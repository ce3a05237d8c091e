namespace DecayAtlas.Grids.Inspection;

/// <summary>Holds grids against the places of sites. A site that no grid reaches is told once and not for every grid.</summary>
internal sealed class SiteReach(IReadOnlyList<GeoPoint> sites)
{
    private readonly List<(CatalogueEntry Entry, GroundExtent? Box, HashSet<int> Outside, int Missing)> _reached = [];

    public void Add(CatalogueEntry entry, Grid grid)
    {
        if (sites.Count > 0)
            Add(entry, grid.Extent(), GridSampler.Sample(grid, sites, SamplingRule.Nearest, entry.ValidWithinMetres));
    }

    public void Add(CatalogueEntry entry, LayerSource units)
    {
        IReadOnlyList<LayerSample> samples = units.Sample(sites, new double?[sites.Count]);
        if (sites.Count > 0)
            Add(entry, null, [.. samples.Select(s => s.Sample)]);
    }

    private void Add(CatalogueEntry entry, GroundExtent? box, IReadOnlyList<GridSample> samples) => _reached.Add((
        entry, box,
        [.. Enumerable.Range(0, samples.Count).Where(i => samples[i].Status == SampleStatus.Outside)],
        samples.Count(s => s.Status == SampleStatus.Missing)));

    public IEnumerable<CatalogueFinding> Findings()
    {
        HashSet<int> nowhere = _reached.Count < 2 ? []
            : [.. Enumerable.Range(0, sites.Count).Where(i => _reached.All(r => r.Outside.Contains(i)))];
        foreach ((CatalogueEntry entry, GroundExtent? box, HashSet<int> outside, int missing) in _reached)
        {
            int beyond = outside.Count - nowhere.Count, on = sites.Count - outside.Count;
            if (beyond > 0)
            {
                yield return new CatalogueFinding("misses-sites", entry.Name,
                    $"{beyond} of {sites.Count} sites lie outside its extent{(box is null ? "" : $" ({Text(box)})")}; fetch a larger "
                    + "part of it, or check its reference system and those sites.");
            }

            if (missing > 0 && missing * 2 > on)
            {
                yield return new CatalogueFinding("misses-sites", entry.Name,
                    $"{missing} of the {on} sites on it lie on cells without a value"
                    + (entry.ValidWithinMetres is null ? "; write valid_within_m to look further, or"
                        : " and find none within valid_within_m;")
                    + " check the missing value and the step that is selected.");
            }
        }

        if (nowhere.Count > 0)
        {
            yield return new CatalogueFinding("misses-sites", null,
                $"{nowhere.Count} of {sites.Count} sites lie outside every grid; check their coordinates, or fetch grids that reach them.");
        }
    }

    private static string Text(GroundExtent box) =>
        $"{box.WestDegrees:0.###} to {box.EastDegrees:0.###} degrees east, "
        + $"{box.SouthDegrees:0.###} to {box.NorthDegrees:0.###} degrees north";
}
