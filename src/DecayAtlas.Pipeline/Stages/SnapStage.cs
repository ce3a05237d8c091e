using DecayAtlas.Atlas;
using DecayAtlas.Atlas.Records;
using DecayAtlas.Grids;
using DecayAtlas.Pipeline.Runs;

namespace DecayAtlas.Pipeline.Stages;

/// <summary>Sites and a grid catalogue -> one value a site and covariate, with where it came from.</summary>
public static class SnapStage
{
    /// <summary>The values, by site and covariate.</summary>
    public sealed record Output(IReadOnlyList<CovariateValue> Values) : IStageOutput
    {
        public string Sentence => $"{Values.Count(v => v.Value is not null)} of {Values.Count} covariate values found";
    }

    public static Output Run(
        IReadOnlyList<Site> sites, IReadOnlyList<CatalogueEntry> catalogue, Action<string, int, int>? progress)
    {
        GeoPoint[] points = [.. sites.Select(s => s.ExactPoint)];
        var values = new List<CovariateValue>(points.Length * catalogue.Count);
        for (int g = 0; g < catalogue.Count; g++)
        {
            CatalogueEntry entry = catalogue[g];
            progress?.Invoke(entry.Name, g, catalogue.Count);
            string fingerprint = GridFingerprint.OfFile(entry.Path);
            using Grid grid = entry.Open();
            IReadOnlyList<GridSample> samples = GridSampler.Sample(grid, points, entry.Rule, entry.ValidWithinMetres);
            for (int i = 0; i < points.Length; i++)
            {
                GridSample sample = samples[i];
                values.Add(new CovariateValue(
                    sites[i].Key, entry.Name, sample.Value, entry.Unit, AtlasCode.Of(sample.Rule), AtlasCode.Of(sample.Status),
                    // a distance to a known cell centre would draw a circle round a sensitive site
                    sites[i].Place.IsGeneralised ? null : sample.DistanceMetres,
                    fingerprint));
            }
        }

        return new Output([.. values.OrderBy(v => v.SiteKey, StringComparer.Ordinal).ThenBy(v => v.Covariate, StringComparer.Ordinal)]);
    }
}
