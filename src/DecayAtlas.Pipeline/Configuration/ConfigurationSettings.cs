using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace DecayAtlas.Pipeline.Configuration;

/// <summary>
/// The sections of a configuration that hold settings. A setting is added as a property of its options record; the schema
/// (schemas/pipeline-v1.schema.json) and docs/settings.md are written anew from here.
/// </summary>
public static class ConfigurationSettings
{
    private static readonly JsonSerializerOptions Indented = new()
    {
        WriteIndented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    /// <summary>Name of each section and the options that hold its defaults.</summary>
    private static readonly (string Section, object Defaults)[] Sections =
    [
        ("limits", IntakeLimits.Default), ("assumptions", MeasurementAssumptions.Default), ("flags", new FlagOptions()), ("train", new TrainingOptions()),
    ];

    /// <summary>The schema of the configuration with every setting as it is declared now; the rest of it stays.</summary>
    public static string WriteInto(string schema)
    {
        JsonNode root = JsonNode.Parse(schema)!;
        foreach ((string section, object defaults) in Sections)
        {
            JsonObject properties = root["properties"]![section]!["properties"]!.AsObject();
            foreach (IGrouping<string, DeclaredSetting> group in DeclaredSetting.Of(defaults).GroupBy(s => s.Name.Split('/')[0], StringComparer.Ordinal))
                properties[group.Key] = group.Count() == 1 ? group.Single().ToSchema() : RangeOf(group);
        }

        return root.ToJsonString(Indented) + "\n";
    }

    /// <summary>Every setting with what may be written and its default, as one Markdown page.</summary>
    public static string ToMarkdown()
    {
        var text = new StringBuilder("""
            # Settings

            This page is made from the code; a test fails when it is stale.

            Numbers that a run works with, by section of the pipeline configuration. What is not written has its default. What a run reads
            and makes (paths, covariates, maps, pages) is in the schema, `schemas/pipeline-v1.schema.json`.

            """.ReplaceLineEndings("\n"));
        foreach ((string section, object defaults) in Sections)
        {
            text.Append(CultureInfo.InvariantCulture, $"\n## {section}\n\n| setting | meaning | expected | default |\n| --- | --- | --- | --- |\n");
            foreach (DeclaredSetting setting in DeclaredSetting.Of(defaults))
                text.Append(CultureInfo.InvariantCulture, $"| `{setting.Name.Replace('/', '.')}` | {setting.Meaning}. | {setting.Expected} | {setting.Default} |\n");
        }

        return text.ToString();
    }

    // two numbers that belong together: who gives one gives both
    private static JsonObject RangeOf(IEnumerable<DeclaredSetting> ends) => new()
    {
        ["type"] = "object",
        ["additionalProperties"] = false,
        ["required"] = new JsonArray([.. ends.Select(e => (JsonNode)e.Name.Split('/')[1])]),
        ["description"] = "min and max",
        ["properties"] = new JsonObject(ends.Select(e => KeyValuePair.Create(e.Name.Split('/')[1], (JsonNode?)e.ToSchema()))),
    };
}
