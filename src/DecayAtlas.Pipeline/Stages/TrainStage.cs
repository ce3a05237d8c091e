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
    /// <summary>Name of the link to the newest model of S, beside that to the newest of k.</summary>
    public const string StabilisationLink = "current-stabilisation";

    /// <summary>Where the model of k lies, and whether it was trained now; then the same of S, where one is asked for.</summary>
    public sealed record Output(string Folder, bool IsNew, ModelCard Card) : IStageOutput
    {
        public Output? Stabilisation { get; init; }

        /// <summary>Why there is no model of S of this release where one is asked for; that of k stands all the same.</summary>
        public string? StabilisationFailure { get; init; }

        public string Sentence => $"{(IsNew ? "trained" : "unchanged, not trained again")}: {Card.Winner}, model {Card.ModelId}{(Card.IsSupported ? "" : "; no learned model is supported, see the card")}";
    }

    public static Output Run(AtlasFolder atlas, TrainSection section, IReadOnlyList<CatalogueEntry> catalogue, Action<string, int, int>? progress)
    {
        // A target that cannot be trained does not keep the other from it. Without a model of k the stage has failed, but not before S was tried.
        (Output? rate, PredictionException? rateFailure) = Try(PredictionTarget.DecayRate, "current");
        (Output? stabilisation, PredictionException? stabilisationFailure) =
            section.Targets.Contains(PredictionTarget.Stabilisation) ? Try(PredictionTarget.Stabilisation, StabilisationLink) : (null, null);
        return rate is not null
            ? rate with { Stabilisation = stabilisation, StabilisationFailure = stabilisationFailure?.Message }
            : throw (stabilisationFailure is null || stabilisationFailure.Message == rateFailure!.Message
                ? rateFailure! : new PredictionException($"{rateFailure.Message} Of S: {stabilisationFailure.Message}", rateFailure));

        (Output? Made, PredictionException? Failure) Try(PredictionTarget target, string link)
        {
            try
            {
                return (Train(target, link), null);
            }
            catch (PredictionException e)
            {
                return (null, e);
            }
        }

        Output Train(PredictionTarget target, string link)
        {
            TrainingSet set = TrainingSetOf(new ReleaseReader(atlas), section, catalogue, target);
            (string path, bool isNew) = MadeFolder.Ensure(atlas.Models, ModelTrainer.IdOf(set, section.Options), folder =>
            {
                using RateModel trained = ModelTrainer.Train(set, section.Options, progress);
                trained.Save(folder);
            }, link);
            using RateModel model = RateModel.Load(path);
            return new Output(path, isNew, model.Card);
        }
    }

    /// <summary>One row a site and campaign that has a k above 0 (or an S), with its covariates.</summary>
    internal static TrainingSet TrainingSetOf(ReleaseReader release, TrainSection section, IReadOnlyList<CatalogueEntry> catalogue, PredictionTarget target = PredictionTarget.DecayRate)
    {
        string column = target == PredictionTarget.DecayRate ? "ln_k" : "s";
        CovariateInfo[] infos =
        [
            .. section.Covariates.Select(name => catalogue.FirstOrDefault(e => e.Name == name) is { } entry
                ? entry.IsClass
                    ? throw new ConfigurationException($"The model asks for covariate {name}, which is a class grid: its codes are names, not quantities; take it out of train.covariates.")
                    : new CovariateInfo(entry.Name, entry.Unit, entry.Title)
                : throw new ConfigurationException($"The model asks for covariate {name}, which the grid catalogue does not have; add it there or take it out of train.covariates.")),
        ];
        Dictionary<string, Place> places = PlacesOf(release);
        var covariates = new ReleasedCovariates(release);

        string?[] keys = release.Table("site_campaigns").Text("site_key"), campaigns = release.Table("site_campaigns").Text("campaign");
        double?[] means = release.Table("site_campaigns").Number(column + "_mean"), sds = release.Table("site_campaigns").Number(column + "_sd");
        int?[] counts = release.Table("site_campaigns").WholeNumber(column + "_burials");
        DateOnly?[] first = release.Table("site_campaigns").Date("first_buried_on"), last = release.Table("site_campaigns").Date("last_retrieved_on");
        string?[] treatments = release.Table("site_campaigns").Text("treatment");
        int[] usable = [.. Enumerable.Range(0, keys.Length).Where(i => means[i] is not null && Treatment.IsUntreated(treatments[i]) && places.ContainsKey(keys[i]!))];
        var weights = SiteWeights.Of(usable.Select(i => (means[i]!.Value, sds[i], counts[i]!.Value)));

        var rows = new List<TrainingRow>();
        int leftOut = 0;
        int[] missing = new int[infos.Length];
        foreach (int i in usable)
        {
            double?[] values = [.. infos.Select(c => covariates.Of(keys[i]!, campaigns[i]!, treatments[i], c.Name))];
            if (values.Any(v => v is null))
            {
                leftOut++;
                for (int c = 0; c < infos.Length; c++)
                    missing[c] += values[c] is null ? 1 : 0;
                continue;
            }

            rows.Add(new TrainingRow(
                keys[i]!, campaigns[i]!, places[keys[i]!].Latitude, places[keys[i]!].Longitude, means[i]!.Value, weights.Of(counts[i]!.Value),
                first[i]!.Value, last[i]!.Value, [.. values.Select(v => v!.Value)],
                places[keys[i]!].Ecosystem));
        }

        return new TrainingSet(infos, rows, release.ReleaseId, leftOut, target)
        {
            Missing = [.. infos.Select((c, i) => new MissingCovariate(c.Name, missing[i])).Where(m => m.Rows > 0)],
        };
    }

    private sealed record Place(double Latitude, double Longitude, string? Ecosystem);

    private static Dictionary<string, Place> PlacesOf(ReleaseReader release)
    {
        string?[] keys = release.Table("sites").Text("site_key"), use = release.Table("sites").Text("use"), ecosystems = release.Table("sites").Text("ecosystem");
        double?[] latitude = release.Table("sites").Number("decimal_latitude"), longitude = release.Table("sites").Number("decimal_longitude");
        return Enumerable.Range(0, keys.Length)
            .Where(i => use[i] == "accepted" && latitude[i] is not null && longitude[i] is not null)
            .ToDictionary(i => keys[i]!, i => new Place(latitude[i]!.Value, longitude[i]!.Value, ecosystems[i]), StringComparer.Ordinal);
    }
}
