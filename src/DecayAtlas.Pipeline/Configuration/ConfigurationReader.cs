using System.Globalization;
using System.Text.Json.Nodes;
using DecayAtlas.Contributions;
using DecayAtlas.Decomposition;
using DecayAtlas.Pipeline.Flags;
using DecayAtlas.Prediction;
using DecayAtlas.Text;

namespace DecayAtlas.Pipeline.Configuration;

/// <summary>Reads a pipeline configuration (YAML, schemas/pipeline-v1.schema.json).</summary>
public static class ConfigurationReader
{
    /// <exception cref="ConfigurationException">The file is missing or not valid; the message names file and line.</exception>
    public static PipelineConfiguration Read(string path)
    {
        string file = Path.GetFullPath(path);
        YamlDocument document;
        try
        {
            document = YamlDocument.Open(file, SchemaText());
        }
        catch (YamlDocumentException e)
        {
            throw new ConfigurationException(e.Message, e);
        }

        var root = new Section(document.Root, "", document);
        string folder = Path.GetDirectoryName(file)!;
        Section limits = root.In("limits"), assumed = root.In("assumptions"), flags = root.In("flags"), release = root.In("release");

        return new PipelineConfiguration(
            file,
            Resolve(root.Text("atlas")!),
            Resolve(root.Text("inbox")!),
            root.Text("grids") is { } grids ? Resolve(grids) : null,
            root.Text("countries") is { } countries ? Resolve(countries) : null,
            root.Has("demo") ? new DemoSection(Resolve(root.In("demo").Text("folder")!), root.In("demo").WholeNumber("seed")!.Value) : null,
            new IntakeLimits(
                limits.Long("file_bytes") ?? IntakeLimits.Default.MaxFileBytes,
                limits.Long("package_bytes") ?? IntakeLimits.Default.MaxPackageBytes,
                limits.WholeNumber("files") ?? IntakeLimits.Default.MaxFiles,
                limits.WholeNumber("rows") ?? IntakeLimits.Default.MaxRows),
            new MeasurementAssumptions(
                assumed.Number("balance_resolution_g") ?? MeasurementAssumptions.Default.BalanceResolutionGrams,
                assumed.Number("tare_sd_g") ?? MeasurementAssumptions.Default.TareSdGrams,
                assumed.Number("ash_fraction_sd") ?? MeasurementAssumptions.Default.AshFractionSd,
                assumed.Number("date_half_width_d") ?? MeasurementAssumptions.Default.DateHalfWidthDays),
            Flags(flags),
            release.Text("title") ?? "Litter-bag decomposition atlas",
            release.Text("publisher") ?? "The campaign",
            Train(root),
            Map(root));

        string Resolve(string relative) => Path.GetFullPath(relative, folder);
    }

    private static FlagOptions Flags(Section flags)
    {
        var defaults = new FlagOptions();
        Section days = flags.Range("exposure_days"), depth = flags.Range("depth_cm");
        return new FlagOptions(
            days.WholeNumber("min") ?? defaults.ExposureMinDays,
            days.WholeNumber("max") ?? defaults.ExposureMaxDays,
            depth.Number("min") ?? defaults.DepthMinCentimetres,
            depth.Number("max") ?? defaults.DepthMaxCentimetres,
            flags.Number("balance_max_g") ?? defaults.BalanceMaxGrams,
            flags.Number("coordinate_uncertainty_max_m") ?? defaults.CoordinateUncertaintyMaxMetres,
            flags.Number("country_distance_m") ?? defaults.CountryDistanceMetres,
            flags.Number("site_moved_m") ?? defaults.SiteMovedMetres,
            flags.Date("as_of"));
    }

    private static TrainSection? Train(Section root)
    {
        if (!root.Has("train"))
            return null;
        Section train = root.In("train");
        var defaults = new TrainingOptions();
        return new TrainSection(train.Texts("covariates"), defaults with
        {
            Seed = train.WholeNumber("seed") ?? defaults.Seed,
            Folds = train.WholeNumber("folds") ?? defaults.Folds,
            BlockDegrees = train.Number("block_degrees") ?? defaults.BlockDegrees,
            MinimumRows = train.WholeNumber("minimum_rows") ?? defaults.MinimumRows,
            Trees = train.WholeNumber("trees") ?? defaults.Trees,
        });
    }

    private static MapSection? Map(Section root)
    {
        if (!root.Has("map"))
            return null;
        Section map = root.In("map");
        double[]? box = map.Numbers("bbox");
        if (box is not null && !(box[0] < box[2] && box[1] < box[3]))
            throw map.Wrong("bbox", "west is not below east, or south is not below north", "west, south, east, north in degrees");
        return new MapSection(map.Text("title") ?? "Decay rate", box is null ? null : new BoundingBox(box[0], box[1], box[2], box[3]));
    }

    private static string SchemaText()
    {
        using Stream stream = typeof(ConfigurationReader).Assembly.GetManifestResourceStream("pipeline-v1.schema.json")!;
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }

    /// <summary>One mapping of the document; an absent one answers every question with nothing.</summary>
    private sealed class Section(JsonNode? node, string place, YamlDocument document)
    {
        private JsonNode? At(string name) => (node as JsonObject)?[name];

        public bool Has(string name) => At(name) is not null;

        public Section In(string name) => new(At(name), $"{place}/{name}", document);

        public Section Range(string name)
        {
            Section range = In(name);
            return range.Number("min") > range.Number("max") ? throw Wrong(name, "min is above max", "min at most max") : range;
        }

        public string? Text(string name) => At(name)?.GetValue<string>();

        public double? Number(string name) => At(name) is { } value ? double.Parse(value.ToJsonString(), CultureInfo.InvariantCulture) : null;

        public int? WholeNumber(string name) => Long(name) is not { } value ? null
            : value is >= int.MinValue and <= int.MaxValue ? (int)value
            : throw Wrong(name, value.ToString(CultureInfo.InvariantCulture), "a whole number below 2147483648");

        public long? Long(string name) => Number(name) is not { } value ? null
            : value == Math.Floor(value) && Math.Abs(value) < 1e15 ? (long)value
            : throw Wrong(name, value.ToString(CultureInfo.InvariantCulture), "a whole number");

        public DateOnly? Date(string name) => Text(name) is not { } text ? null
            : DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day) ? day
            : throw Wrong(name, text, "a day that exists, as 2024-05-20");

        public IReadOnlyList<string> Texts(string name) => [.. At(name)!.AsArray().Select(x => x!.GetValue<string>())];

        public double[]? Numbers(string name) => At(name)?.AsArray()
            .Select(x => double.Parse(x!.ToJsonString(), CultureInfo.InvariantCulture)).ToArray();

        public ConfigurationException Wrong(string name, string found, string expected) =>
            new($"{document.Path}:{document.LineOf($"{place}/{name}")}: {name}: found {found}, expected {expected}.");
    }
}
