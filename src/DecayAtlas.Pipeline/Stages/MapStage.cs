using System.Security.Cryptography;
using System.Text;
using System.Text.Json;

namespace DecayAtlas.Pipeline.Stages;

/// <summary>The current models and the grids -> GeoTIFF, NetCDF and picture of what each predicts, its sums over regions, and k and S
/// together.</summary>
public static class MapStage
{
    /// <summary>Where the map of k lies, and whether it was drawn now; then that of S, where one is asked for.</summary>
    public sealed record Output(string Folder, bool IsNew, MapSummary Summary) : IStageOutput
    {
        public Output? Stabilisation { get; init; }

        public JointStep.Output? Joint { get; init; }

        /// <summary>How far it moved from the map that was current before; missing where it is the same, or there is none to hold it
        /// against.</summary>
        public MapMove? Moved { get; init; }

        /// <summary>Why there is no map of S, or none of both, where they are asked for; that of k stands all the same.</summary>
        public IReadOnlyList<string> LeftOut { get; init; } = [];

        /// <summary>Whether one of them is left out because something is broken, which a person must mend.</summary>
        public bool IsBroken { get; init; }

        public string Sentence => (IsNew ? "drawn" : "unchanged, not drawn again")
            + $": {Summary.Predicted} of {Summary.Cells} cells predicted{(Summary.ClippedToGrids ? ", cut to the grids" : "")}"
            + $"{(Summary.WithoutNoted is { } shift ? "; " + shift.Sentence() : "")}"
            + OfClasses + $"{(Stabilisation is null ? "" : Joint is null ? "; S too" : "; S too, and both together")}";

        private string OfClasses => (Summary.AsIf is { } chosen ? $"; {ClassChoices.Sentence(chosen)}" : "")
            + (Summary.UnseenClasses is { } unseen
                ? $"; no prediction in {unseen.Values.Sum()} cells of classes that the model never saw "
                    + $"({string.Join(", ", unseen.OrderByDescending(c => c.Value).Take(5).Select(c => $"{c.Key} {c.Value}"))})" : "");
    }

    public static Output Run(AtlasFolder atlas, MapSection section, TrainSection train, IReadOnlyList<CatalogueEntry> catalogue,
        Action<string, int, int>? progress)
    {
        Output made = Maps(atlas, section, train, catalogue, progress);
        JointStep.UnlinkIfStale(atlas);
        return made;
    }

    private static Output Maps(AtlasFolder atlas, MapSection section, TrainSection train, IReadOnlyList<CatalogueEntry> catalogue,
        Action<string, int, int>? progress)
    {
        // the maps of k and of S, then both together
        int parts = train.Targets.Contains(PredictionTarget.Stabilisation) ? 3 : 1;
        using RateModel ofRate = CurrentModel.Load(atlas, MapQuantity.DecayRate);
        Output rate = Draw(ofRate);
        if (!train.Targets.Contains(PredictionTarget.Stabilisation))
            return rate;
        // what is wrong with S keeps nobody from the map of k
        try
        {
            if (MadeFolder.CurrentIdOf(atlas.Models, MapQuantity.Stabilisation.Link) is null)
                return rate with { LeftOut = ["There is no map of S, for there is no model of S."] };
            using RateModel ofShare = CurrentModel.Load(atlas, MapQuantity.Stabilisation);
            if (ofShare.Card.ReleaseId != ofRate.Card.ReleaseId)
            {
                return rate with
                {
                    LeftOut = [$"There is no map of S, for its newest model is of release {ofShare.Card.ReleaseId} and that of k of "
                        + $"release {ofRate.Card.ReleaseId}."],
                };
            }

            rate = rate with { Stabilisation = Draw(ofShare) };
            (JointStep.Output? joint, string? absence) = JointStep.Run(atlas, (ofRate.Card, rate), (ofShare.Card, rate.Stabilisation),
                LearntFrom(ofRate, OptionsOf(section) with { Title = section.JointTitle }), StagePart.Of(progress, 2, parts));
            return rate with { Joint = joint, LeftOut = absence is null ? [] : [$"There is no map of k and S together. {absence}"] };
        }
        catch (Exception e) when (e is PredictionException or AtlasException)
        {
            string missing = rate.Stabilisation is null ? "S" : "k and S together";
            return rate with { LeftOut = [$"There is no map of {missing}. {e.Message}"], IsBroken = true };
        }

        Output Draw(RateModel model) => MapStage.Draw(atlas,
            section with { Title = TitleOf(section, MapQuantity.Of(model.Card.Target)) }, model, catalogue,
            options => LearntFrom(model, options),
            StagePart.Of(progress, model.Card.Target == PredictionTarget.DecayRate ? 0 : 1, parts,
                parts == 1 ? "" : $"{MapQuantity.Of(model.Card.Target).Symbol}: "));

        MapOptions LearntFrom(RateModel model, MapOptions options) => MapStage.LearntFrom(atlas, train, catalogue, model, options);
    }

    /// <summary>A map with what its model learnt from: the places, as published, and when.</summary>
    public static MapOptions LearntFrom(AtlasFolder atlas, TrainSection train, IReadOnlyList<CatalogueEntry> catalogue, RateModel model,
        MapOptions options)
    {
        IReadOnlyList<TrainingRow> rows =
            TrainStage.TrainingSetOf(new ReleaseReader(atlas, model.Card.ReleaseId), train, catalogue, model.Card.Target).Rows;
        return options with
        {
            Sites = [.. rows.DistinctBy(r => r.SiteKey).Select(r => new GeoPoint(r.LongitudeDegrees, r.LatitudeDegrees))],
            Measured = MeasuredTimes.Of(rows),
        };
    }

    /// <summary>Looks, before minutes of training, whether what the model is to learn from can be mapped as the section asks.</summary>
    /// <exception cref="ConfigurationException">It cannot.</exception>
    public static void Foresee(MapSection section, TrainSection train, IReadOnlyList<CatalogueEntry> catalogue)
    {
        Followed(() => MapForesight.Check(ModelCovariates.Of(train.Covariates, catalogue), catalogue, section.Choices, section.Conditions));
        OptionsOf(section);
        RegionsOf(section);
    }

    /// <summary>The heading of a map.</summary>
    public static string TitleOf(MapSection section, MapQuantity of) =>
        of == MapQuantity.DecayRate ? section.Title : section.StabilisationTitle;

    /// <summary>What a map says of itself; missing where it has no such file.</summary>
    internal static MapSummary? SummaryOf(string folder) => Path.Combine(folder, RateMap.SummaryName) is var path && File.Exists(path)
        ? JsonSerializer.Deserialize<MapSummary>(File.ReadAllText(path), JsonText.Options) : null;

    private static Output Draw(AtlasFolder atlas, MapSection section, RateModel model, IReadOnlyList<CatalogueEntry> catalogue,
        Func<MapOptions, MapOptions> learntFrom, Action<string, int, int>? progress)
    {
        MapQuantity of = MapQuantity.Of(model.Card.Target);
        MapOptions options = learntFrom(OptionsOf(section));
        Followed(() => section.Choices.Check(model.Card));
        RegionSet? regions = RegionsOf(section);
        string? before = MadeFolder.CurrentIdOf(atlas.Maps, of.Link);
        (string path, bool isNew) = MadeFolder.Ensure(atlas.Maps, IdOf(model.Card, section, catalogue), folder =>
        {
            MapSummary made = Make(model, of, catalogue, options, folder, progress);
            if (regions is not null)
            {
                PointCovariates covariates = PointCovariates.Of(model, catalogue, section.Choices);
                RegionFiles.Write(folder, of, regions, RegionSummary.Of(Path.Combine(folder, of.TifName), regions, model,
                    places => covariates.At(places, section.Conditions), progress));
            }

            DurableFile.WriteText(Path.Combine(folder, RateMap.SummaryName), JsonSerializer.Serialize(made, JsonText.Options) + "\n");
        }, of.Link);
        return new Output(path, isNew, SummaryOf(path)!)
        {
            Moved = before is null || before == Path.GetFileName(path) ? null
                : MapMove.Between(Path.Combine(atlas.Maps, before, of.TifName), Path.Combine(path, of.TifName), of, progress),
        };
    }

    private static MapSummary Make(RateModel model, MapQuantity of, IReadOnlyList<CatalogueEntry> catalogue, MapOptions options,
        string folder, Action<string, int, int>? progress)
    {
        MapSummary? made = null;
        Followed(() => made = RateMap.Make(model, catalogue, options,
            new MapFiles(Path.Combine(folder, of.TifName), Path.Combine(folder, of.NetCdfName), Path.Combine(folder, of.PngName)),
            progress));
        return made!;
    }

    private static void Followed(Action section)
    {
        try
        {
            section();
        }
        catch (PredictionException e) when (e.IsOfRequest)
        {
            throw new ConfigurationException($"Section map cannot be followed: {e.Message}", e);
        }
    }

    private static RegionSet? RegionsOf(MapSection section) =>
        section.Regions is { } polygons ? Polygons("regions", polygons, section.RegionName) : null;

    private static RegionSet Polygons(string key, string path, string? name = null)
    {
        try
        {
            return RegionSet.Read(path, name);
        }
        catch (PredictionException e)
        {
            throw new ConfigurationException($"map.{key} cannot be followed: {e.Message}", e);
        }
    }

    /// <summary>The map that a configuration asks for, without sites.</summary>
    /// <exception cref="ConfigurationException">Its polygons cannot be read.</exception>
    public static MapOptions OptionsOf(MapSection section) => new(section.Title, [])
    {
        Region = section.Polygons is { } polygons ? MapRegion.Of(Polygons("polygons", polygons))
            : section.Box is { } box ? MapRegion.Of(box) : MapRegion.Whole,
        Crs = section.Crs,
        CellSize = section.CellSize,
        Conditions = section.Conditions,
        Choices = section.Choices,
    };

    /// <summary>The model id and a digest of all else that shapes the map: the grids' bytes, where it lies, season and depth, polygons, the
    /// title.</summary>
    private static string IdOf(ModelCard card, MapSection section, IReadOnlyList<CatalogueEntry> catalogue)
    {
        IEnumerable<string> polygons = new[] { section.Polygons, section.Regions }.Select(path => path is null ? "none"
            : File.Exists(path) ? DurableFile.Sha256(path)
            : throw new ConfigurationException($"There is no polygon file {path}; correct the path in section map."));
        IEnumerable<string> grids = catalogue
            .Where(e => card.Covariates.Any(c => c.Name == e.Name) || section.Choices.FromGrid.Values.Contains(e.Name))
            .SelectMany(e => new[] { e.Title, GridInput.Of(e, GridFingerprint.OfFile).Digest });
        string text = string.Create(InvariantCulture, $"{MapBands.Version}\n{section with { Polygons = null, Regions = null }}\n")
            + string.Concat(polygons.Concat(grids).Select(line => line + "\n"));
        return $"{card.ModelId}-{Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)))[..8]}";
    }
}
