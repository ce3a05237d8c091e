using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Packages;

/// <summary>
/// What a contribution says of itself as a list of names and values: the sheet <c>package</c> of a workbook, or the section
/// <c>package</c> of a mapping. It is made into a descriptor and judged by the same profile as a data package.
/// </summary>
internal static class FlatDescriptor
{
    // Each name, and the places in a descriptor that it fills.
    private static readonly (string Name, string Place)[] Places =
    [
        ("name", "/name"), ("revision", "/revision"), ("title", "/title"), ("description", "/description"), ("created", "/created"),
        ("licence", "/licenses/0/name"), ("contributor", "/contributor"), ("campaign", "/campaign"), ("protocol", "/protocol"),
        ("contact_name", "/contributors/0/title"), ("contact_email", "/contributors/0/email"),
        ("contact_organisation", "/contributors/0/organization"),
        ("profile", "/profile"),
    ];

    public static IReadOnlyList<string> Names { get; } = [.. Places.Select(place => place.Name)];

    /// <summary>The place in a descriptor that an entry fills; <see langword="null"/> for a name that is none of ours.</summary>
    public static string? PlaceOf(string name) => Places.FirstOrDefault(place => place.Name == name).Place;

    /// <summary>Checks the values and makes the header; null when there are findings on anything but the licence.</summary>
    /// <param name="locate">Gives a finding its place from the name that it is about; null stands for the list as a whole.</param>
    public static ContributionHeader? Read(
        IReadOnlyDictionary<string, string> values, Func<Finding, string?, Finding> locate, string contentHash, FindingList findings)
    {
        using JsonDocument document = JsonDocument.Parse(Document(values).ToJsonString());
        FindingList own = new() { Untold = findings.Untold };
        bool isRead = DescriptorCheck.Check(document.RootElement, own);
        int before = own.Count;
        ContributionHeader? header = isRead ? Packages.Descriptor.HeaderOf(document.RootElement, contentHash, own) : null;
        isRead &= own.Count == before;
        foreach (Finding finding in own.Close(""))
        {
            string? name = NameOf(finding);
            findings.Add(
                locate(finding with { Column = name, Mend = finding.Mend.Replace("property", "entry", StringComparison.Ordinal) }, name));
        }
        return isRead ? header : null;
    }

    /// <summary>The descriptor that the values make, with every table of the schema.</summary>
    public static JsonObject Document(IReadOnlyDictionary<string, string> values)
    {
        JsonObject root = new()
        {
            ["profile"] = values.GetValueOrDefault("profile", SchemaCatalogue.Profile),
            ["resources"] = new JsonArray([
                .. SchemaCatalogue.Tables.Select(table => new JsonObject { ["name"] = table.Name, ["path"] = table.Name + ".csv" })]),
        };
        // what lies deeper comes last
        foreach ((string name, string place) in Places.OrderBy(entry => entry.Place.Count(c => c == '/')))
        {
            if (!values.TryGetValue(name, out string? value))
                continue;
            bool isNumber = int.TryParse(value, NumberStyles.None, CultureInfo.InvariantCulture, out int number);
            JsonNode node = name == "revision" && isNumber ? number : value;
            if (place.Split('/') is [_, string list, "0", string key])
                ((root[list] ??= new JsonArray(new JsonObject()))[0]!)[key] = node;
            else
                root[place[1..]] = node;
        }
        return root;
    }

    // The entry that a finding about the descriptor is about.
    private static string? NameOf(Finding finding)
    {
        if (finding.Column is not { Length: > 0 } place)
            return null;
        foreach ((string name, string target) in Places)
        {
            if (place == target)
                return name;
        }
        return place.StartsWith("/licenses", StringComparison.Ordinal) ? "licence"
            : place.StartsWith("/contributors", StringComparison.Ordinal) ? "contact_name"
            : null;
    }
}
