namespace DecayAtlas.Pipeline.Configuration;

/// <summary>Reads a pipeline configuration (YAML, schemas/pipeline-v1.schema.json), and refuses what no single setting can be wrong
/// in.</summary>
public static class ConfigurationReader
{
    /// <exception cref="ConfigurationException">The file is missing or not valid; the message names file and line.</exception>
    public static PipelineConfiguration Read(string path)
    {
        if (string.IsNullOrWhiteSpace(path))
            throw new ConfigurationException("The configuration has no name; name a file, for example pipeline/demo.yaml.");
        if (Directory.Exists(path))
            throw new ConfigurationException($"{path} is a folder; name the configuration file in it.");
        string file = Path.GetFullPath(path);
        Section root = Section.Open(file, "pipeline-v1.schema.json");
        PipelineConfiguration read = Cited(root.Bind(new PipelineConfiguration { Path = file }));
        if (IsWithin(read.Inbox, read.Atlas) || IsWithin(read.Atlas, read.Inbox))
        {
            throw root.Wrong("inbox", $"{read.Inbox}, which overlaps the atlas {read.Atlas}",
                "two folders of which neither lies in the other");
        }

        if (root.Has("train") && !root.Has("grids"))
            throw root.Wrong("train", "train without grids", "grids too, since a model learns from covariates");
        if (root.Has("map") && !root.Has("train"))
            throw root.Wrong("map", "map without train", "train too, since a map needs a model");

        return read with
        {
            Mails = root.In("mails").Bind(new MailsSection()),
            Campaigns = CampaignFiles.Read(read.CampaignPaths),
            Demo = root.Has("demo") ? root.In("demo").Bind(new DemoSection()) : null,
            Limits = root.In("limits").Bind(IntakeLimits.Default with { }),
            Assumptions = root.In("assumptions").Bind(new MeasurementAssumptions()),
            Flags = [.. FlagCatalogue.Fresh().Select(root.In("flags").Bind)],
            Answers = root.In("answers").Bind(new QuestionsSection()),
            Train = root.Has("train")
                ? root.In("train").Bind(new TrainSection { Options = root.In("train").Bind(new TrainingOptions()) }) : null,
            Map = root.Has("map") ? Map(root.In("map"), new MapSection { BagHeightCentimetres = read.BagHeightCentimetres }) : null,
            Remote = new RemoteGrids(Remote(root.In("remote")), new AtlasFolder(read.Atlas).RemoteCache),
            Pages = root.Has("pages") ? Pages(root.In("pages"), new PagesSection { Title = read.Title }) : null,
        };
    }

    private static PipelineConfiguration Cited(PipelineConfiguration read)
    {
        if (read.CitationPath is null)
            return read;
        (Citation citation, string? title) = CitationReader.Read(read.CitationPath);
        return read with { Citation = citation, Title = title ?? read.Title };
    }

    private static bool IsWithin(string path, string folder) =>
        (path + Path.DirectorySeparatorChar).StartsWith(folder + Path.DirectorySeparatorChar, StringComparison.Ordinal);

    private static MapSection Map(Section map, MapSection defaults)
    {
        MapSection read = map.Bind(defaults);
        if (read.Sides is [var west, var south, var east, var north] && !(west != east && south < north))
        {
            throw map.Wrong("bbox", "a box without width or with south not below north",
                "west, south, east, north in degrees; west above east goes over the antimeridian");
        }

        if (map.Has("bbox") && map.Has("polygons"))
            throw map.Wrong("polygons", "bbox and polygons", "one of them");
        if (map.Has("region_name") && !map.Has("regions"))
            throw map.Wrong("region_name", "region_name without regions", "regions too, a GeoJSON file");
        if (read.BuriedOn is null != read.RetrievedOn is null || read.BuriedOn >= read.RetrievedOn)
        {
            throw map.Wrong(read.BuriedOn is null ? "retrieved_on" : "buried_on", "one day without the other, or not in order",
                "buried_on and a later retrieved_on");
        }

        return read;
    }

    private static RemoteOptions Remote(Section remote)
    {
        RemoteOptions read = remote.Bind(new RemoteOptions());
        return read.NoHost is not { } host ? read
            : throw remote.Wrong("hosts", host, "a host name, as data.example.org, without https:// and path, and with its port only where "
                + "that is not the usual one");
    }

    private static PagesSection? Pages(Section pages, PagesSection defaults)
    {
        PagesSection read = pages.Bind(defaults);
        if (!read.On)
            return null;
        if (read.Address is { } address && !(Uri.TryCreate(address, UriKind.Absolute, out Uri? uri) && uri.Scheme is "http" or "https"))
            throw pages.Wrong("address", address, "an address that begins with https://, as https://soil.example/atlas/");
        if (read.Languages.FirstOrDefault(code => !Language.Known.Contains(code)) is { } unknown)
            throw pages.Wrong("languages", unknown, $"languages that the pages know: {string.Join(", ", Language.Known)}");
        if (read.Title.ByLanguage.Keys.FirstOrDefault(code => !Language.Known.Contains(code)) is { } other)
            throw pages.Wrong("title", other, $"languages that the pages know: {string.Join(", ", Language.Known)}");
        return read.Languages.Count > 0 ? read : read with { Languages = [.. Language.Known.OrderBy(code => code != "en")] };
    }
}
