using DecayAtlas.Atlas;
using DecayAtlas.Atlas.Records;
using DecayAtlas.Grids;
using DecayAtlas.Pipeline.Runs;
using DecayAtlas.Pipeline.Work;

namespace DecayAtlas.Pipeline.Stages;

/// <summary>Sites and sampled grids -> one value a site and covariate, with where it came from.</summary>
public static class SnapStage
{
    /// <summary>The values, by site and covariate.</summary>
    public sealed record Output(IReadOnlyList<CovariateValue> Values) : IStageOutput
    {
        public string Sentence => $"{Values.Count(v => v.Value is not null)} of {Values.Count} covariate values found";
    }

    internal static Output Run(IReadOnlyList<Site> sites, IReadOnlyList<GridInput> grids, SnapMemory snapped) => new(
    [
        .. sites.SelectMany(site => grids.OrderBy(g => g.Entry.Name, StringComparer.Ordinal).Select(grid =>
        {
            GridSample sample = snapped.Of(grid, new SnapPlace(site.ExactPoint, site.Row.CoordinateUncertaintyMetres));
            return new CovariateValue(
                site.Key, grid.Entry.Name, sample.Value, grid.Entry.Unit, AtlasCode.Of(sample.Rule), AtlasCode.Of(sample.Status),
                sample.DistanceMetres, grid.Fingerprint)
            {
                StandardDeviation = sample.StandardDeviation,
                ValidShare = sample.ValidShare,
            };
        })),
    ]);
}
