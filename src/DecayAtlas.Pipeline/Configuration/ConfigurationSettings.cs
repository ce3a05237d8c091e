using System.Text;
using System.Text.Json.Nodes;

namespace DecayAtlas.Pipeline.Configuration;

/// <summary>
/// All that a configuration may hold. A setting is added as a property of its options record; the schema
/// (schemas/pipeline-v1.schema.json) and docs/settings.md are written anew from here.
/// </summary>
public static class ConfigurationSettings
{
    /// <summary>What each mapping is for; the first stands for the file itself.</summary>
    private static readonly (string Path, string Description)[] Sections =
    [
        ("", "What a run reads, which limits it uses, and what it makes. Paths are relative to this file."),
        ("demo", "Makes the invented scenario before the run and compares the result with its truth after it."),
        ("limits", "What one contribution may cost."),
        ("assumptions", "What is assumed of a measurement when a contribution does not say."),
        ("flags", "Limits of the flags."),
        ("answers", "What questions are asked of."),
        ("release", "What a release says of itself."),
        ("train", "The model; without it none is trained."),
        ("train/baseline", "The published response that a learned model must beat."),
        ("map", "The map; without it none is drawn."),
        ("remote", "Grids that are read over the network, of which only what the sites touch is fetched."),
        ("pages", "Pages of the release that open in any browser; without it none are made."),
        ("mails", "Drafts of mails to senders, for the curator to send."),
    ];

    /// <summary>Every setting by its whole name, as flags/depth_cm/min.</summary>
    private static readonly (string Path, DeclaredSetting Setting)[] All =
    [
        .. new (string Section, object[] Defaults)[]
        {
            ("", [new PipelineConfiguration { Path = "" }]), ("demo/", [new DemoSection()]), ("limits/", [IntakeLimits.Default]),
            ("assumptions/", [MeasurementAssumptions.Default]), ("flags/", [.. FlagCatalogue.All]),
            ("answers/", [new QuestionsSection()]),
            ("train/", [new TrainSection(), new TrainingOptions()]),
            ("map/", [new MapSection()]), ("remote/", [new RemoteOptions()]), ("pages/", [new PagesSection()]),
            ("mails/", [new MailsSection()]),
        }.SelectMany(s => s.Defaults.SelectMany(DeclaredSetting.Of).Select(d => (s.Section + d.Name, d))),
    ];

    public static string ToSchema()
    {
        JsonObject root = Mapping(Sections[0].Description);
        root.Insert(0, "$schema", "https://json-schema.org/draft/2020-12/schema");
        root.Insert(1, "$id", "decayatlas/pipeline-v1");
        root.Insert(2, "title", "DecayAtlas pipeline configuration, version 1");
        Add(root, "version", new JsonObject { ["const"] = 1, ["description"] = "1, the version of this format" }, isRequired: true);
        foreach ((string path, DeclaredSetting setting) in All)
        {
            JsonObject at = root;
            for (int end = path.IndexOf('/'); end >= 0; end = path.IndexOf('/', end + 1))
            {
                string name = path[..end].Split('/')[^1];
                if (at["properties"]![name] is null)
                {
                    Add(at, name, Mapping(Sections.FirstOrDefault(s => s.Path == path[..end]).Description ?? "min and max"),
                        isRequired: false);
                }

                at = at["properties"]![name]!.AsObject();
            }

            Add(at, path.Split('/')[^1], setting.ToSchema(), setting.IsRequired);
        }

        return root.ToJsonString(JsonText.Options) + "\n";
    }

    /// <summary>Every setting with what may be written and its default, as one Markdown page.</summary>
    public static string ToMarkdown()
    {
        StringBuilder text = new("""
            # Settings

            This page is made from the code; a test fails when it is stale.

            All that a pipeline configuration may hold, by section. What is not written has its default; what is required says so. Paths are
            relative to the configuration. Editors that know JSON Schema take `schemas/pipeline-v1.schema.json`.

            """.ReplaceLineEndings("\n"));
        foreach ((string section, string description) in Sections.Where(s => !s.Path.Contains('/', StringComparison.Ordinal)))
        {
            text.Append(InvariantCulture, $"\n## {(section == "" ? "the file itself" : section)}\n\n{description}\n\n| setting | "
                + $"meaning | expected | default |\n| --- | --- | --- | --- |\n");
            if (section == "")
                text.Append("| `version` | Version of this format. | 1 | required |\n");
            foreach ((string path, DeclaredSetting setting) in All.Where(
                s => (s.Path.Contains('/', StringComparison.Ordinal) ? s.Path.Split('/')[0] : "") == section))
            {
                string name = path[(section == "" ? 0 : section.Length + 1)..].Replace('/', '.');
                string said = setting.Meaning == "" ? $"{setting.Expected} | " : $"{setting.Meaning}. | {setting.Expected}";
                object? standard = setting.Default is true ? "true" : setting.Default;
                text.Append(InvariantCulture,
                    $"| `{name}` | {said} | {standard ?? (setting.IsRequired ? "required" : "")} |\n");
            }
        }

        return text.ToString();
    }

    private static JsonObject Mapping(string description) => new()
    {
        ["type"] = "object",
        ["additionalProperties"] = false,
        ["description"] = description,
        ["properties"] = new JsonObject(),
    };

    private static void Add(JsonObject mapping, string name, JsonObject schema, bool isRequired)
    {
        mapping["properties"]![name] = schema;
        if (!isRequired)
            return;
        if (mapping["required"] is not JsonArray required)
            mapping.Insert(mapping.IndexOf("properties"), "required", required = []);
        required.Add(name);
    }
}
