using System.Reflection;
using System.Text.Json;

namespace DecayAtlas.Contributions.Vocabularies;

/// <summary>
/// The words of the schema and the concepts of open vocabularies that come close to them: schemas/v1/vocabulary.json, read once from the
/// assembly. Schema, release, documents and pages take them from here.
/// </summary>
public static class Vocabulary
{
    private static readonly JsonSerializerOptions Form = new() { PropertyNamingPolicy = JsonNamingPolicy.CamelCase };

    private static readonly Lazy<IReadOnlyList<WordList>> Loaded = new(Read);

    public static IReadOnlyList<WordList> Lists => Loaded.Value;

    public static WordList Ecosystem => Of("ecosystem");

    public static WordList LandUse => Of("land_use");

    public static WordList Management => Of("management");

    public static WordList Treatment => Of("treatment");

    /// <summary>The list of that name. It must exist: it is asked for by code and by documents of ours.</summary>
    public static WordList Of(string name) => Lists.First(list => list.Name == name);

    private static IReadOnlyList<WordList> Read()
    {
        using Stream stream = Assembly.GetExecutingAssembly().GetManifestResourceStream("schemas/v1/vocabulary.json")!;
        Document document = JsonSerializer.Deserialize<Document>(stream, Form)!;
        Dictionary<string, string?> prefixes = document.Schemes.ToDictionary(s => s.Name, s => s.Iri);
        return [.. document.Lists.Select(list => new WordList(list.Name, list.Title, [.. list.Words.Select(word => new OwnWord(
            word.Word, word.Title, word.OtherSpellings ?? [],
            [.. word.CloseMatch.Select(c => new OpenConcept(
                c.Scheme, c.Code, prefixes[c.Scheme] is { } prefix ? new Uri(prefix + c.Code) : null, c.FromMemory))]))]))];
    }

    private sealed record Document(IReadOnlyList<Scheme> Schemes, IReadOnlyList<List> Lists);

    private sealed record Scheme(string Name, string? Iri);

    private sealed record List(string Name, string Title, IReadOnlyList<Entry> Words);

    private sealed record Entry(string Word, string Title, IReadOnlyList<string>? OtherSpellings, IReadOnlyList<Match> CloseMatch);

    private sealed record Match(string Scheme, string Code, bool FromMemory);
}
