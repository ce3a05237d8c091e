using System.Text.Json;
using Json.Schema;

namespace DecayAtlas.Contributions.Packages;

/// <summary>Checks a descriptor against schemas/v1/contribution.json and says each failure in the words of that document's
/// descriptions.</summary>
internal static class DescriptorCheck
{
    /// <summary>Most characters of a text whose length the profile does not state. Nearly all are a line; a description may be some
    /// pages.</summary>
    private const int LongestText = 100_000;

    /// <summary>Most entries of a list that the profile describes; the evaluator and what it finds are slow with more.</summary>
    private const int MostEntries = 1000;

    private static readonly EvaluationOptions Options = new() { OutputFormat = OutputFormat.List };
    private static readonly JsonElement Schema = JsonDocument.Parse(SchemaCatalogue.Text("contribution")).RootElement;

    public static void Check(JsonElement root, FindingList findings)
    {
        int before = findings.Count;
        CheckLengths(root, Schema, [], findings);
        if (findings.Count > before)
            return;
        HashSet<string> unsafePaths = CheckPaths(root, findings);
        EvaluationResults results = SchemaCatalogue.Descriptor.Evaluate(root, Options);
        if (results.IsValid)
            return;
        HashSet<(string Place, string Keyword)> told = [];
        foreach (EvaluationResults result in results.Details ?? [])
        {
            string path = result.EvaluationPath.ToString();
            string place = result.InstanceLocation.ToString();
            bool isAlternative = path.Contains("/anyOf/", StringComparison.Ordinal) || path.Contains("/contains", StringComparison.Ordinal);
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
                        TellLength(segments, FormattableString.Invariant($"the name of a property of {property.Name.Length} characters"),
                            FormattableString.Invariant($"at most {FieldSchema.LongestOfAll} characters"), findings);
                    }
                    else
                    {
                        Below(property.Value, property.Name);
                    }
                }
                break;
            case JsonValueKind.Array when value.GetArrayLength() > MostEntries && rule.ValueKind == JsonValueKind.Object:
                TellLength(segments, FormattableString.Invariant($"{value.GetArrayLength()} entries"),
                    FormattableString.Invariant($"at most {MostEntries} entries"), findings);
                break;
            case JsonValueKind.Array:
                int index = 0;
                foreach (JsonElement item in value.EnumerateArray())
                    Below(item, index++.ToString(System.Globalization.CultureInfo.InvariantCulture));
                break;
            case JsonValueKind.String:
                int longest = rule.ValueKind == JsonValueKind.Object && rule.TryGetProperty("maxLength", out JsonElement stated)
                    ? stated.GetInt32() : LongestText;
                if (value.GetString()!.Length is var length && length > longest)
                {
                    TellLength(segments, FormattableString.Invariant($"a text of {length} characters"),
                        FormattableString.Invariant($"at most {longest} characters"), findings);
                }

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
        findings, string.Concat(segments.Select(segment => "/" + Escaped(segment))), found, expected, "shorten the property");

    private static string Escaped(string segment) =>
        segment.Replace("~", "~0", StringComparison.Ordinal).Replace("/", "~1", StringComparison.Ordinal);

    private static void Tell(JsonElement root, string place, string keyword, FindingList findings)
    {
        string[] segments = [.. place.Split('/').Skip(1)
            .Select(segment => segment.Replace("~1", "/", StringComparison.Ordinal).Replace("~0", "~", StringComparison.Ordinal))];
        JsonElement value = At(root, segments);
        JsonElement rule = RuleAt(segments);
        if (keyword == "required" && value.ValueKind == JsonValueKind.Object && rule.TryGetProperty("required", out JsonElement required))
        {
            foreach (string name in required.EnumerateArray().Select(item => item.GetString()!)
                .Where(name => !value.TryGetProperty(name, out _)))
            {
                string? near =
                    Nearest.Of(name, value.EnumerateObject().Select(property => property.Name).Where(other => !IsKnown(rule, other)));
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
        HashSet<string> places = new(StringComparer.Ordinal);
        if (root.ValueKind != JsonValueKind.Object || !root.TryGetProperty("resources", out JsonElement resources)
            || resources.ValueKind != JsonValueKind.Array)
        {
            return places;
        }

        int index = -1;
        foreach (JsonElement resource in resources.EnumerateArray())
        {
            index++;
            if (resource.ValueKind != JsonValueKind.Object || !resource.TryGetProperty("path", out JsonElement path)
                || path.ValueKind != JsonValueKind.String)
            {
                continue;
            }

            if (PackagePath.WhyUnsafe(path.GetString()!) is not { } why)
                continue;
            string place = FormattableString.Invariant($"/resources/{index}/path");
            places.Add(place);
            findings.Add(new Finding(FindingCode.PathUnsafe, SchemaCatalogue.DescriptorName, null,
                place, $"the path {FindingText.Quote(path.GetString())}, {why}",
                "a file inside the contribution, written relative to " + SchemaCatalogue.DescriptorName,
                "put the file beside the descriptor and write its plain name"));
        }
        return places;
    }

    private static void Add(FindingList findings, string place, string found, string expected, string mend) =>
        findings.Add(
            new Finding(FindingCode.DescriptorInvalid, SchemaCatalogue.DescriptorName, null, place.Length == 0 ? null : place, found,
                expected, mend));

    private static JsonElement At(JsonElement root, IEnumerable<string> segments) => segments.Aggregate(root, (element, segment) =>
        element.ValueKind == JsonValueKind.Array ? element[int.Parse(segment, System.Globalization.CultureInfo.InvariantCulture)]
        : element.GetProperty(segment));

    /// <summary>What the profile says of a place, or of the nearest place above it of which it says something.</summary>
    private static string Description(string[] segments)
    {
        for (int length = segments.Length; length > 0; length--)
        {
            if (RuleAt(segments[..length]) is { ValueKind: JsonValueKind.Object } rule
                && rule.TryGetProperty("description", out JsonElement text))
            {
                return text.GetString()!;
            }
        }
        return "an object as the profile schemas/v1/contribution.json describes it";
    }

    private static bool IsKnown(JsonElement rule, string property) =>
        rule.TryGetProperty("properties", out JsonElement properties) && properties.TryGetProperty(property, out _);

    /// <summary>The part of the profile that rules a place in the descriptor.</summary>
    private static JsonElement RuleAt(IEnumerable<string> segments)
    {
        JsonElement rule = Schema;
        foreach (string segment in segments)
            rule = RuleBelow(rule, segment);
        return rule;
    }

    private static JsonElement RuleBelow(JsonElement rule, string segment)
    {
        if (rule.ValueKind != JsonValueKind.Object)
            return default;
        if (rule.TryGetProperty("items", out JsonElement items))
            return items.TryGetProperty("$ref", out _) ? Schema.GetProperty("$defs").GetProperty("resource") : items;
        return rule.TryGetProperty("properties", out JsonElement properties) && properties.TryGetProperty(segment, out JsonElement property)
            ? property : default;
    }
}
