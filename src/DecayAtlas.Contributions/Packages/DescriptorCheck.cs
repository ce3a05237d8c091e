using System.Text.Json;
using Json.Schema;

namespace DecayAtlas.Contributions.Packages;

/// <summary>Checks a descriptor against schemas/v1/contribution.json and says each failure in the words of that document's
/// descriptions.</summary>
internal static class DescriptorCheck
{
    // Most characters of a text whose length the profile does not state. Nearly all are a line; a description may be some pages.
    private const int LongestText = 100_000;

    // Most entries of a list that the profile describes; the evaluator and what it finds are slow with more.
    private const int MostEntries = 1000;

    private static readonly EvaluationOptions Options = new() { OutputFormat = OutputFormat.List };

    private static JsonElement Schema => SchemaCatalogue.DescriptorDocument;

    /// <returns>Whether it follows the profile, so that it can be read whatever its licence is.</returns>
    public static bool Check(JsonElement root, FindingList findings)
    {
        int before = findings.Count;
        CheckLengths(root, Schema, [], findings);
        if (findings.Count > before)
            return false;
        HashSet<string> unsafePaths = CheckPaths(root, findings);
        EvaluationResults results = SchemaCatalogue.Descriptor.Evaluate(root, Options);
        if (results.IsValid)
        {
            bool isSafe = findings.Count == before;
            CheckLicence(root, findings);
            return isSafe;
        }
        HashSet<(string Place, string Keyword)> told = [];
        foreach (EvaluationResults result in results.Details ?? [])
        {
            string path = result.EvaluationPath.ToString();
            string place = result.InstanceLocation.ToString();
            bool isAlternative = path.Contains("/anyOf/", StringComparison.Ordinal) || path.Contains("/contains", StringComparison.Ordinal)
                || path.EndsWith("/if", StringComparison.Ordinal);
            if (result.IsValid || result.Errors is null || isAlternative || unsafePaths.Contains(place))
                continue;
            foreach (string keyword in result.Errors.Keys)
            {
                if (told.Add((place, keyword)))
                    Tell(root, place, keyword, findings);
            }
        }
        // The document is not valid, so something must be said even if the evaluator put it where it was not looked for.
        if (findings.Count == 0)
            Add(findings, "", "a descriptor that does not follow the profile", Description([]), "compare it with the example contribution");
        return false;
    }

    /// <summary>
    /// Tells what is longer than it may be before anything else looks at it: the evaluator would hold all of a text against a pattern
    /// before its length is told.
    /// </summary>
    /// <param name="rule">The part of the profile that rules the value, if any.</param>
    private static void CheckLengths(JsonElement value, JsonElement rule, List<string> segments, FindingList findings)
    {
        switch (value.ValueKind)
        {
            case JsonValueKind.Object:
                foreach (JsonProperty property in value.EnumerateObject())
                {
                    if (property.Name.Length > FieldSchema.LongestOfAll)
                    {
                        TellLength(segments, Invariant($"the name of a property of {property.Name.Length} characters"),
                            Invariant($"at most {FieldSchema.LongestOfAll} characters"), findings);
                    }
                    else
                    {
                        Below(property.Value, property.Name);
                    }
                }
                break;
            case JsonValueKind.Array when value.GetArrayLength() > MostEntries && rule.ValueKind == JsonValueKind.Object:
                TellLength(segments, Invariant($"{value.GetArrayLength()} entries"), Invariant($"at most {MostEntries} entries"), findings);
                break;
            case JsonValueKind.Array:
                int index = 0;
                foreach (JsonElement item in value.EnumerateArray())
                    Below(item, index++.ToString(System.Globalization.CultureInfo.InvariantCulture));
                break;
            case JsonValueKind.String:
                int longest = rule.Child("maxLength") is { ValueKind: JsonValueKind.Number } stated ? stated.GetInt32() : LongestText;
                if (value.GetString()!.Length is var length && length > longest)
                    TellLength(segments, Invariant($"a text of {length} characters"), Invariant($"at most {longest} characters"), findings);
                break;
        }

        void Below(JsonElement inside, string segment)
        {
            segments.Add(segment);
            CheckLengths(inside, RuleBelow(rule, segment), segments, findings);
            segments.RemoveAt(segments.Count - 1);
        }
    }

    private static void TellLength(List<string> segments, string found, string expected, FindingList findings) => Add(
        findings, string.Concat(segments.Select(segment => "/" + JsonPlace.Escaped(segment))), found, expected, "shorten the property");

    private static void Tell(JsonElement root, string place, string keyword, FindingList findings)
    {
        string[] segments = [.. place.Split('/').Skip(1)
            .Select(segment => segment.Replace("~1", "/", StringComparison.Ordinal).Replace("~0", "~", StringComparison.Ordinal))];
        JsonElement value = At(root, segments);
        JsonElement rule = RuleAt(segments);
        JsonElement required = rule.Child("required");
        if (keyword == "required" && value.ValueKind == JsonValueKind.Object && required.IsThere())
        {
            string[] names = [.. value.EnumerateObject().Select(property => property.Name)];
            foreach (string name in required.EnumerateArray().Select(item => item.GetString()!).Except(names))
            {
                string? near = Nearest.Of(name, names.Where(other => !rule.Child("properties").Child(other).IsThere()));
                Add(findings, place + "/" + name, "nothing", Description([.. segments, name]),
                    near is null ? $"add the property {name}" : $"add the property {name}; {near} may be it, misspelt");
            }
            return;
        }
        // Contact data stays out of reports, and reports travel.
        string found = segments is ["contributors", ..] ? "contact data, which is not shown here"
            : segments is [] ? "a " + value.ValueKind.ToString().ToLowerInvariant()
            : FindingText.Quote(value.GetRawText());
        Add(findings, place, found, Description(segments), "correct the property");
    }

    private static HashSet<string> CheckPaths(JsonElement root, FindingList findings)
    {
        HashSet<string> places = [];
        JsonElement resources = root.Child("resources");
        if (resources.ValueKind != JsonValueKind.Array)
            return places;
        foreach ((int index, JsonElement resource) in resources.EnumerateArray().Index())
        {
            if (resource.TextOf("path") is not { } path || PackagePath.WhyUnsafe(path) is not { } why)
                continue;
            string place = Invariant($"/resources/{index}/path");
            places.Add(place);
            findings.Add(new Finding(FindingCode.PathUnsafe, SchemaCatalogue.DescriptorName, null, place,
                $"the path {FindingText.Quote(path)}, {why}",
                "a file inside the contribution, written relative to " + SchemaCatalogue.DescriptorName,
                "put the file beside the descriptor and write its plain name"));
        }
        return places;
    }

    // the first is the one that counts, and its name goes before its address
    private static void CheckLicence(JsonElement root, FindingList findings)
    {
        JsonElement licence = root.GetProperty("licenses")[0];
        (string key, string found) = licence.TextOf("name") is { } name ? ("name", name) : ("path", licence.TextOf("path")!);
        if (key == "name" ? OpenLicence.IsOne(found) : OpenLicence.IsAddressOfOne(found))
            return;
        findings.Add(new Finding(FindingCode.LicenceNotOpen, SchemaCatalogue.DescriptorName, null, "/licenses/0/" + key,
            FindingText.Quote(found), OpenLicence.Expected, OpenLicence.MendOf(found)));
    }

    private static void Add(FindingList findings, string place, string found, string expected, string mend) =>
        findings.Add(new Finding(FindingCode.DescriptorInvalid, SchemaCatalogue.DescriptorName, null, place.Length == 0 ? null : place,
            found, expected, mend));

    private static JsonElement At(JsonElement root, IEnumerable<string> segments) => segments.Aggregate(root, (element, segment) =>
        element.ValueKind == JsonValueKind.Array ? element[int.Parse(segment, System.Globalization.CultureInfo.InvariantCulture)]
        : element.GetProperty(segment));

    // What the profile says of a place, or of the nearest place above it of which it says something.
    private static string Description(string[] segments)
    {
        for (int length = segments.Length; length > 0; length--)
        {
            if (RuleAt(segments[..length]).TextOf("description") is { } text)
                return text;
        }
        return "an object as the profile schemas/v1/contribution.json describes it";
    }

    // The part of the profile that rules a place in the descriptor.
    private static JsonElement RuleAt(IEnumerable<string> segments) => segments.Aggregate(Schema, RuleBelow);

    private static JsonElement RuleBelow(JsonElement rule, string segment)
    {
        JsonElement items = rule.Child("items");
        return items.Child("$ref").IsThere() ? Schema.GetProperty("$defs").GetProperty("resource")
            : items.IsThere() ? items : rule.Child("properties").Child(segment);
    }
}
