using System.Globalization;
using System.Text.Json.Nodes;

namespace DecayAtlas.Pipeline.Configuration;

/// <summary>One mapping of a YAML document; an absent one answers every question with nothing.</summary>
internal sealed class Section(JsonNode? node, string place, YamlDocument document)
{
    private JsonNode? At(string name) => (node as JsonObject)?[name];

    public bool Has(string name) => At(name) is not null;

    public Section In(string name) => new(At(name), $"{place}/{name}", document);

    public IEnumerable<Section> Items(string name) =>
        (At(name) as JsonArray
            ?? []).Select((item, i) => new Section(item, Invariant($"{place}/{name}/{i}"), document));

    private Section Range(string name)
    {
        Section range = In(name);
        return range.Number("min") > range.Number("max") ? throw Wrong(name, "min is above max", "min at most max") : range;
    }

    public string? Text(string name) => At(name)?.GetValue<string>();

    /// <summary>A file or folder, named relative to the document.</summary>
    private string? PathOf(string name) =>
        Text(name) is { } path ? Path.TrimEndingDirectorySeparator(Path.GetFullPath(path, Path.GetDirectoryName(document.Path)!)) : null;

    private string[] PathsOf(string name) =>
        [.. Texts(name).Select(path => Path.GetFullPath(path, Path.GetDirectoryName(document.Path)!))];

    private bool? YesNo(string name) => At(name)?.GetValue<bool>();

    private double? Number(string name) => At(name) is { } value ? double.Parse(value.ToJsonString(), InvariantCulture) : null;

    public int? WholeNumber(string name) => Long(name) is not { } value ? null
        : value is >= int.MinValue and <= int.MaxValue ? (int)value
        : throw Wrong(name, value.ToString(InvariantCulture), "a whole number below 2147483648");

    private long? Long(string name) => Number(name) is not { } value ? null
        : value == Math.Floor(value) && Math.Abs(value) < 1e15 ? (long)value
        : throw Wrong(name, value.ToString(InvariantCulture), "a whole number");

    public DateOnly? Date(string name) => Text(name) is not { } text ? null
        : DateOnly.TryParseExact(text, "yyyy-MM-dd", InvariantCulture, DateTimeStyles.None, out DateOnly day) ? day
        : throw Wrong(name, text, "a day that exists, as 2024-05-20");

    /// <summary>All that is written here, by name; every value is a text.</summary>
    public IEnumerable<(string Name, string Text)> Texts() =>
        (node as JsonObject ?? []).Select(entry => (entry.Key, entry.Value!.GetValue<string>()));

    // one text for all languages, or one for each, the first of which stands for those that are not there
    private LocalText? ByLanguage(string name) => At(name) is JsonObject
        ? In(name).Texts().ToArray() is var texts ? new LocalText(texts[0].Text, texts.ToDictionary(t => t.Name, t => t.Text)) : null
        : Text(name) is { } plain ? (LocalText)plain : null;

    private string[] Texts(string name) => [.. At(name)!.AsArray().Select(x => x!.GetValue<string>())];

    private double[]? Numbers(string name) => At(name)?.AsArray()
        .Select(x => double.Parse(x!.ToJsonString(), InvariantCulture)).ToArray();

    /// <summary>Sets what is written here in options that nobody else has seen yet; all else keeps its default.</summary>
    /// <exception cref="ConfigurationException">A number is not whole, a day does not exist, or min is above max.</exception>
    public TOptions Bind<TOptions>(TOptions options)
        where TOptions : class
    {
        foreach (DeclaredSetting setting in DeclaredSetting.Of(options))
        {
            string[] path = setting.Name.Split('/');
            Section at = path.Length == 1 ? this : Range(path[0]);
            string name = path[^1];
            object? value = setting.Type == typeof(int) ? at.WholeNumber(name)
                : setting.Type == typeof(long) ? at.Long(name)
                : setting.Type == typeof(DateOnly) ? at.Date(name)
                : setting.Type == typeof(bool) ? at.YesNo(name)
                : setting.Type == typeof(string) ? setting.IsPath ? at.PathOf(name) : at.Text(name)
                : setting.Type == typeof(IReadOnlyList<string>) ? !at.Has(name) ? null : setting.IsPath ? at.PathsOf(name) : at.Texts(name)
                : setting.Type == typeof(IReadOnlyList<double>) ? at.Numbers(name)
                : setting.Type == typeof(LocalText) ? at.ByLanguage(name)
                : setting.Type == typeof(IReadOnlyDictionary<string, string>)
                    ? at.Has(name) ? at.In(name).Texts().ToDictionary(t => t.Name, t => t.Text, StringComparer.Ordinal) : null
                : at.Number(name);
            if (value is not null)
                setting.SetIn(options, value);
        }

        return options;
    }

    public ConfigurationException Wrong(string name, string found, string expected) =>
        new($"{document.Path}:{document.LineOf($"{place}/{JsonPlace.Escaped(name)}")}: {name}: found {found}, expected {expected}.");

    /// <summary>Opens a YAML file against a schema that is embedded in this assembly.</summary>
    /// <exception cref="ConfigurationException">The file is missing or not valid; the message names file and line.</exception>
    public static Section Open(string path, string schema)
    {
        using Stream stream = typeof(Section).Assembly.GetManifestResourceStream(schema)!;
        using StreamReader reader = new(stream);
        try
        {
            YamlDocument document = YamlDocument.Open(path, reader.ReadToEnd());
            return new Section(document.Root, "", document);
        }
        catch (YamlDocumentException e)
        {
            throw new ConfigurationException(e.Message, e);
        }
    }
}
