namespace DecayAtlas.Cli.Reporting;

/// <summary>How many sites lie on a cell with a value, on one without, and where the grid does not reach.</summary>
/// <param name="From">Where the sites were read.</param>
internal sealed record SitesOnGrid(string From, int Sites, int WithValue, int OnMissing, int Outside)
{
    public static SitesOnGrid Of(GridInspection found, KnownSites sites)
    {
        using Grid grid = GridFile.Open(found.Path, found.Options);
        IReadOnlyList<GridSample> samples = GridSampler.Sample(grid, sites.Places, SamplingRule.Nearest, null);
        int Count(SampleStatus status) => samples.Count(s => s.Status == status);
        return new SitesOnGrid(
            sites.Origin, samples.Count, Count(SampleStatus.Sampled), Count(SampleStatus.Missing), Count(SampleStatus.Outside));
    }
}
