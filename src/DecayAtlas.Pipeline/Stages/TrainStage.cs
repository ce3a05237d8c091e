using DecayAtlas.Atlas.Records;
using DecayAtlas.Atlas.Releases;
using DecayAtlas.Atlas.Storage;
using DecayAtlas.Atlas;
using DecayAtlas.Grids;
using DecayAtlas.Pipeline.Answers;
using DecayAtlas.Pipeline.Configuration;
using DecayAtlas.Pipeline.Runs;
using DecayAtlas.Prediction;

namespace DecayAtlas.Pipeline.Stages;

/// <summary>The current release -> a model of ln k and its card.</summary>
public static class TrainStage
{
    /// <summary>Where the model lies, and whether it was trained now.</summary>
    public sealed record Output(string Folder, bool IsNew, ModelCard Card) : IStageOutput
    {
        public string Sentence => $"{(IsNew ? "trained" : "unchanged, not trained again")}: {Card.Winner}, model {Card.ModelId}";
    }

    public static Output Run(AtlasFolder atlas, TrainSection section, IReadOnlyList<CatalogueEntry> catalogue, Action<string, int, int>? progress)
    {
        TrainingSet set = TrainingSetOf(new ReleaseReader(atlas), section, catalogue);
        (string path, bool isNew) = MadeFolder.Ensure(atlas.Models, ModelTrainer.IdOf(set, section.Options), folder =>
        {
            using RateModel trained = ModelTrainer.Train(set, section.Options, progress);
            trained.Save(folder);
        });
        using RateModel model = RateModel.Load(path);
        return new Output(path, isNew, model.Card);
    }

    /// <summary>One row a site and campaign that has a k above 0, with the site's covariates.</summary>
    internal static TrainingSet TrainingSetOf(ReleaseReader release, TrainSection section, IReadOnlyList<CatalogueEntry> catalogue)
    {
        CovariateInfo[] infos =
        [
            .. section.Covariates.Select(name => catalogue.FirstOrDefault(e => e.Name == name) is { } entry
                ? entry.IsClass
                    ? throw new ConfigurationException($"The model asks for covariate {name}, which is a class grid: its codes are names, not quantities; take it out of train.covariates.")
                    : new CovariateInfo(entry.Name, entry.Unit, entry.Title)
                : throw new ConfigurationException($"The model asks for covariate {name}, which the grid catalogue does not have; add it there or take it out of train.covariates.")),
        ];
        Dictionary<string, (double Latitude, double Longitude)> places = PlacesOf(release);
        var covariates = new ReleasedCovariates(release);

        string?[] keys = release.Table("site_campaigns").Text("site_key"), campaigns = release.Table("site_campaigns").Text("campaign");
        double?[] means = release.Table("site_campaigns").Number("ln_k_mean"), sds = release.Table("site_campaigns").Number("ln_k_sd");
        int?[] counts = release.Table("site_campaigns").WholeNumber("ln_k_burials");
        DateOnly?[] first = release.Table("site_campaigns").Date("first_buried_on"), last = release.Table("site_campaigns").Date("last_retrieved_on");
        string?[] treatments = release.Table("site_campaigns").Text("treatment");
        int[] usable = [.. Enumerable.Range(0, keys.Length).Where(i => means[i] is not null && Treatment.IsUntreated(treatments[i]) && places.ContainsKey(keys[i]!))];
        var weights = SiteWeights.Of(usable.Select(i => (means[i]!.Value, sds[i], counts[i]!.Value)));

        var rows = new List<TrainingRow>();
        int leftOut = 0;
        foreach (int i in usable)
        {
            double?[] values = [.. infos.Select(c => covariates.Of(keys[i]!, campaigns[i]!, treatments[i], c.Name))];
            if (values.Any(v => v is null))
            {
                leftOut++;
                continue;
            }

            rows.Add(new TrainingRow(
                keys[i]!, campaigns[i]!, places[keys[i]!].Latitude, places[keys[i]!].Longitude, means[i]!.Value, weights.Of(counts[i]!.Value),
                first[i]!.Value, last[i]!.Value, [.. values.Select(v => v!.Value)]));
        }

        return new TrainingSet(infos, rows, release.ReleaseId, leftOut);
    }

    private static Dictionary<string, (double Latitude, double Longitude)> PlacesOf(ReleaseReader release)
    {
        string?[] keys = release.Table("sites").Text("site_key"), use = release.Table("sites").Text("use");
        double?[] latitude = release.Table("sites").Number("decimal_latitude"), longitude = release.Table("sites").Number("decimal_longitude");
        return Enumerable.Range(0, keys.Length)
            .Where(i => use[i] == "accepted" && latitude[i] is not null && longitude[i] is not null)
            .ToDictionary(i => keys[i]!, i => (latitude[i]!.Value, longitude[i]!.Value), StringComparer.Ordinal);
    }
}
