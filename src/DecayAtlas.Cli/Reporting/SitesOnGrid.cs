namespace DecayAtlas.Cli.Reporting;

/// <summary>How many sites a grid reaches.</summary>
/// <param name="From">Where the sites were read.</param>
/// <param name="Sites">How many there are.</param>
/// <param name="WithValue">How many lie on a cell with a value.</param>
/// <param name="OnMissing">How many lie on a cell without one.</param>
/// <param name="Outside">How many the grid does not reach.</param>
internal sealed record SitesOnGrid(string From, int Sites, int WithValue, int OnMissing, int Outside)
{
    public static SitesOnGrid Of(GridInspection found, KnownSites sites)
    {
        using Grid grid = GridFile.Open(found.Path, found.Options);
        IReadOnlyList<GridSample> samples = GridSampler.Sample(grid, sites.Places, SamplingRule.Nearest, null);
        return new SitesOnGrid(
            sites.Origin, samples.Count,
            samples.Count(s => s.Status == SampleStatus.Sampled), samples.Count(s => s.Status == SampleStatus.Missing),
            samples.Count(s => s.Status == SampleStatus.Outside));
    }
}
