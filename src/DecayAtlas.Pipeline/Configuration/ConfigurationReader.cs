namespace DecayAtlas.Pipeline.Configuration;

/// <summary>Reads a pipeline configuration (YAML, schemas/pipeline-v1.schema.json).</summary>
public static class ConfigurationReader
{
    private const string DefaultTitle = "Litter-bag decomposition atlas";

    /// <exception cref="ConfigurationException">The file is missing or not valid; the message names file and line.</exception>
    public static PipelineConfiguration Read(string path)
    {
        if (string.IsNullOrWhiteSpace(path))
            throw new ConfigurationException("The configuration has no name; name a file, for example pipeline/demo.yaml.");
        if (Directory.Exists(path))
            throw new ConfigurationException($"{path} is a folder; name the configuration file in it.");
        string file = Path.GetFullPath(path);
        Section root = Section.Open(file, "pipeline-v1.schema.json");
        string folder = Path.GetDirectoryName(file)!;
        Section assumed = root.In("assumptions"), release = root.In("release");

        string atlas = Resolve(root.Text("atlas")!), inbox = Resolve(root.Text("inbox")!);
        if (IsWithin(inbox, atlas) || IsWithin(atlas, inbox))
            throw root.Wrong("inbox", $"{inbox}, which overlaps the atlas {atlas}", "two folders of which neither lies in the other");
        if (root.Has("train") && !root.Has("grids"))
            throw root.Wrong("train", "train without grids", "grids too, since a model learns from covariates");
        if (root.Has("map") && !root.Has("train"))
            throw root.Wrong("map", "map without train", "train too, since a map needs a model");

        return new PipelineConfiguration(
            file,
            atlas,
            inbox,
            root.Text("grids") is { } grids ? Resolve(grids) : null,
            root.Text("countries") is { } countries ? Resolve(countries) : null,
            root.Text("decisions") is { } decisions ? Resolve(decisions) : null,
            root.Has("demo") ? new DemoSection(Resolve(root.In("demo").Text("folder")!), root.In("demo").WholeNumber("seed")!.Value, root.In("demo").Text("faults") == "graded") : null,
            root.In("limits").Bind(IntakeLimits.Default with { }),
            root.In("assumptions").Bind(new MeasurementAssumptions()),
            root.In("flags").Bind(new FlagOptions()),
            release.Text("title") ?? DefaultTitle,
            release.Text("publisher") ?? "The campaign",
            Train(root),
            Map(root, Resolve))
        {
            BagHeightCentimetres = assumed.Number("bag_height_cm") ?? BurialConditions.UsualBagHeightCentimetres,
            Pages = Pages(root),
        };

        string Resolve(string relative) => Path.TrimEndingDirectorySeparator(Path.GetFullPath(relative, folder));
    }

    private static bool IsWithin(string path, string folder) =>
        (path + Path.DirectorySeparatorChar).StartsWith(folder + Path.DirectorySeparatorChar, StringComparison.Ordinal);

    private static TrainSection? Train(Section root)
    {
        if (!root.Has("train"))
            return null;
        Section train = root.In("train");
        return new TrainSection(train.Texts("covariates"), train.Bind(new TrainingOptions()) with
        {
            TemperatureCovariate = train.In("baseline").Text("temperature"),
            MoistureCovariate = train.In("baseline").Text("moisture"),
        })
        {
            Targets = train.Has("targets") && train.Texts("targets").Contains("stabilisation")
                ? [PredictionTarget.DecayRate, PredictionTarget.Stabilisation]
                : [PredictionTarget.DecayRate],
        };
    }

    private static MapSection? Map(Section root, Func<string, string> resolve)
    {
        if (!root.Has("map"))
            return null;
        Section map = root.In("map");
        double[]? box = map.Numbers("bbox");
        if (box is not null && !(box[0] != box[2] && box[1] < box[3]))
            throw map.Wrong("bbox", "a box without width or with south not below north", "west, south, east, north in degrees; west above east goes over the antimeridian");
        if (box is not null && map.Has("polygons"))
            throw map.Wrong("polygons", "bbox and polygons", "one of them");
        if (map.Has("region_name") && !map.Has("regions"))
            throw map.Wrong("region_name", "region_name without regions", "regions too, a GeoJSON file");
        DateOnly? from = map.Date("buried_on"), to = map.Date("retrieved_on");
        if (from is null != to is null || from >= to)
            throw map.Wrong(from is null ? "retrieved_on" : "buried_on", "one day without the other, or not in order", "buried_on and a later retrieved_on");
        return new MapSection(map.Text("title") ?? "Decay rate")
        {
            Box = box is null ? null : new BoundingBox(box[0], box[1], box[2], box[3]),
            Polygons = map.Text("polygons") is { } polygons ? resolve(polygons) : null,
            Crs = map.Text("crs"),
            CellSize = map.Number("cell_size"),
            Conditions = new BurialConditions(from is null ? null : new ExposureDays(from.Value, to!.Value), map.Number("depth_cm"), root.In("assumptions").Number("bag_height_cm") ?? BurialConditions.UsualBagHeightCentimetres),
            Regions = map.Text("regions") is { } regions ? resolve(regions) : null,
            RegionName = map.Text("region_name"),
        };
    }

    private static PagesSection? Pages(Section root)
    {
        Section pages = root.In("pages");
        if (!root.Has("pages") || pages.YesNo("on") == false)
            return null;
        string[] languages = pages.Has("languages") ? [.. pages.Texts("languages")] : [.. Language.Known.OrderBy(code => code != "en")];
        if (languages.FirstOrDefault(code => !Language.Known.Contains(code)) is { } unknown)
            throw pages.Wrong("languages", unknown, $"languages that the pages know: {string.Join(", ", Language.Known)}");
        return new PagesSection(pages.Text("title") ?? root.In("release").Text("title") ?? DefaultTitle, languages, pages.Text("temperature"), pages.Text("precipitation"));
    }
}
