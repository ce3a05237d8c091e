using System.Text.Json.Nodes;

namespace DecayAtlas.Atlas.Described;

/// <summary>A person or a body as it wishes to be named.</summary>
/// <param name="Family">With particle and suffix; missing for a body, and for a person with one name.</param>
/// <param name="Orcid">As an address, https://orcid.org/0000-0002-1825-0097.</param>
public sealed record NamedParty(
    string Name, bool IsPerson, string? Given = null, string? Family = null, string? Orcid = null, string? Affiliation = null,
    string? Website = null)
{
    /// <summary>As catalogues sort it: the family name first.</summary>
    public string Sorted => Family is null || Given is null ? Name : $"{Family}, {Given}";

    private static readonly string[] OfPersons = ["given-names", "name-particle", "family-names", "name-suffix"];

    /// <summary>Whether a person or an entity of the Citation File Format is named at all.</summary>
    public static bool HasName(JsonNode party) =>
        (party["name"] ?? party["alias"] ?? party["given-names"] ?? party["family-names"]) is not null;

    /// <summary>A person or an entity of the Citation File Format, which has a name.</summary>
    public static NamedParty Of(JsonNode party)
    {
        if (Text("name") is { } name)
            return new(name, false, Orcid: Text("orcid"), Website: Text("website"));
        string? given = Text("given-names"), family = Joined(OfPersons[1..]);
        return new(Joined(OfPersons) ?? Text("alias")!, true, given, family,
            Text("orcid"), Text("affiliation"), Text("website"));

        string? Text(string key) => (string?)party[key];

        string? Joined(params string[] keys) =>
            keys.Select(Text).Where(text => text is not null).ToArray() is { Length: > 0 } all ? string.Join(' ', all) : null;
    }
}
