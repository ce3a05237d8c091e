using System.Globalization;
using System.Reflection;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Wide;

/// <summary>Reads a mapping and says everything that is missing, unfinished or at odds in it.</summary>
internal static class MappingReader
{
    /// <summary>What a person still has to decide begins with this word.</summary>
    public const string Todo = "TODO";

    private static readonly Lazy<string> SchemaText = new(() =>
    {
        using Stream stream = Assembly.GetExecutingAssembly().GetManifestResourceStream("mapping-v1.schema.json")!;
        using StreamReader reader = new(stream, Encoding.UTF8);
        return reader.ReadToEnd();
    });

    /// <summary>The JSON Schema of a mapping, version 1.</summary>
    public static string Schema => SchemaText.Value;

    /// <summary>Reads a mapping; null when it has findings.</summary>
    public static Mapping? Read(PackageFile file, FindingList findings)
    {
        int before = findings.Count;
        YamlDocument document;
        try
        {
            document = YamlDocument.Parse(file.Path, file.Open);
            TellUnfinished(document, document.Root, "", findings);
            if (findings.Count > before)
                return null;
            document.Validate(Schema);
        }
        catch (YamlDocumentException fault)
        {
            string sentence = fault.Sentence.Length == 0 ? fault.Message
                : fault.Sentence.StartsWith("found ", StringComparison.Ordinal) ? fault.Sentence[6..] : fault.Sentence;
            findings.Add(
                new Finding(FindingCode.MappingBroken, file.Path, (int?)fault.Line, null, FindingText.Plain(sentence),
                    "a mapping as schemas/mapping-v1.schema.json describes it", "correct the mapping"));
            return null;
        }
        Mapping mapping = From(document, findings);
        return findings.Count > before ? null : mapping;
    }

    private static void TellUnfinished(YamlDocument document, JsonNode? node, string place, FindingList findings)
    {
        switch (node)
        {
            case JsonObject map:
                foreach ((string name, JsonNode? value) in map)
                {
                    string at = place + "/" + name.Replace("~", "~0", StringComparison.Ordinal)
                        .Replace("/", "~1", StringComparison.Ordinal);
                    if (name.StartsWith(Todo, StringComparison.Ordinal))
                        Tell(at, name);
                    TellUnfinished(document, value, at, findings);
                }
                break;
            case JsonArray list:
                for (int i = 0; i < list.Count; i++)
                    TellUnfinished(document, list[i], string.Create(CultureInfo.InvariantCulture, $"{place}/{i}"), findings);
                break;
            case JsonValue value
                when value.GetValueKind() == JsonValueKind.String && value.GetValue<string>().StartsWith(Todo, StringComparison.Ordinal):
                Tell(place, value.GetValue<string>());
                break;
        }

        void Tell(string at, string text) =>
            findings.Add(new Finding(FindingCode.MappingUnfinished, document.Path, (int)document.LineOf(at), at[1..].Replace('/', '.'),
            FindingText.Quote(text), "a decision that only a person who knows the file can make",
            "read the remark beside it and write what is true of your file"));
    }

    private static Mapping From(YamlDocument document, FindingList findings)
    {
        JsonObject root = document.Root.AsObject();
        JsonObject form = root["file"] as JsonObject ?? [];
        bool isBurial = (string)root["one_row_is"]! == "burial";
        foreach (string role in new[] { "fast", "slow" })
        {
            if (isBurial != root[role] is not null)
            {
                Tell(document, findings, "/" + (isBurial ? "one_row_is" : role), FindingCode.MappingIncomplete,
                    isBurial ? $"one_row_is: burial without a section {role}" : $"a section {role} beside one_row_is: bag",
                    isBurial ? "the sections fast and slow, with what each bag has of its own" : "no such section, as a row has one bag",
                    isBurial ? $"add {role}: with bags: below it" : "write one_row_is: burial, or move what is in it to bags");
            }
        }
        List<TableSources> tables = [Sources(document, "sites", null, findings)];
        string?[] roles = isBurial ? ["fast", "slow"] : [null];
        JsonArray? stated = root["lots"] as JsonArray;
        if (stated is null)
            tables.AddRange(roles.Select(role => Sources(document, "lots", role, findings)));
        tables.AddRange(roles.Select(role => Sources(document, "bags", role, findings)));
        tables.AddRange(roles.Where(role => root["samples"] is not null || (role is not null && root[role]?["samples"] is not null))
            .Select(role => Sources(document, "samples", role, findings)));
        foreach (JsonNode? column in root["undecided"] as JsonArray ?? [])
        {
            Tell(document, findings, "/undecided",
                FindingCode.ColumnUndecided, $"the column {FindingText.Quote((string)column!)} undecided",
                "a field for it, or its name under leave_out",
                "give it to a field or move it to leave_out");
        }

        return new Mapping(
            document.Path,
            new WideForm((string?)form["sheet"], form["header_row"] is { } row
                ? (int)double.Parse(TextOf(row), CultureInfo.InvariantCulture) : 1, (string?)form["encoding"],
                (string?)form["separator"] switch { "semicolon" => ';', "tab" => '\t', _ => ',' },
                (string?)form["decimal_sign"] == "comma",
                OrderOf(form), ((form["empty_words"] as JsonArray)?.Select(word => (string)word!) ?? []).ToHashSet(StringComparer.Ordinal)),
            tables,
            [.. (stated
                ?? []).Select((lot, i) =>
                new StatedLot(lot!.AsObject().ToDictionary(entry => entry.Key, entry => TextOf(entry.Value!), StringComparer.Ordinal),
                    FormattableString.Invariant($"/lots/{i}")))],
            root["package"]!.AsObject().ToDictionary(entry => entry.Key, entry => TextOf(entry.Value!), StringComparer.Ordinal),
            [.. ((root["leave_out"] as JsonArray) ?? []).Select(name => (string)name!)],
            document);
    }

    private static TableSources Sources(YamlDocument document, string table, string? role, FindingList findings)
    {
        TableSchema schema = SchemaCatalogue.Tables.First(candidate => candidate.Name == table);
        Dictionary<string, FieldSource> sources = new(StringComparer.Ordinal);
        if (document.Root[table] is JsonObject common)
            Add(common, "/" + table, isOwn: false);
        if (role is not null && document.Root[role]?[table] is JsonObject own)
            Add(own, $"/{role}/{table}", isOwn: true);
        if (role is not null && schema.FindOrdinal("role") >= 0 && !sources.ContainsKey("role"))
        {
            sources["role"] = new FieldSource(schema.Fields[schema.OrdinalOf("role")], null, role, null, null, DateOrder.Unstated, false,
                new Dictionary<string, string>(), "/" + role, false);
        }

        foreach (FieldSchema field in schema.Fields.Where(field => field.Required && !sources.ContainsKey(field.Name)))
        {
            Tell(document, findings, document.Root[table] is null ? "" : "/" + table,
                FindingCode.MappingIncomplete, $"no source for {field.Name} of {table}{(role is null ? "" : $" of the {role} bag")}",
                "a column, value or pattern, as the field is required", $"add {field.Name}: to the section {table}");
        }

        return new TableSources(schema, [.. sources.Values.OrderBy(source => source.Field.Ordinal)]);

        void Add(JsonObject section, string place, bool isOwn)
        {
            foreach ((string name, JsonNode? node) in section)
            {
                if (TwiceIn(node!["words"] as JsonObject ?? []) is { } word)
                {
                    Tell(document, findings, $"{place}/{name}/words", FindingCode.MappingBroken,
                        $"the word {FindingText.Quote(word)} twice, spaces aside", "each word once", "take one of the two out");
                }

                FieldSource source = SourceOf(schema.Fields[schema.OrdinalOf(name)], node!.AsObject(), $"{place}/{name}", isOwn);
                sources[name] = source;
                if (WhyAtOdds(source) is { } why)
                    Tell(document, findings, source.Place, FindingCode.MappingBroken, why.Found, why.Expected, "correct the mapping");
            }
        }
    }

    private static FieldSource SourceOf(FieldSchema field, JsonObject node, string place, bool isOwn) => new(
        field,
        (string?)node["column"],
        node["value"] is { } value ? TextOf(value) : null,
        (string?)node["pattern"],
        (string?)node["unit"],
        OrderOf(node),
        (string?)node["form"] == "degrees-minutes-seconds",
        (node["words"] as JsonObject ?? []).DistinctBy(entry => entry.Key.Trim(), StringComparer.Ordinal)
            .ToDictionary(entry => entry.Key.Trim(), entry => TextOf(entry.Value!), StringComparer.Ordinal),
        place,
        isOwn);

    private static string? TwiceIn(JsonObject words)
    {
        HashSet<string> seen = new(StringComparer.Ordinal);
        return words.Select(entry => entry.Key.Trim()).FirstOrDefault(word => !seen.Add(word));
    }

    private static (string Found, string Expected)? WhyAtOdds(FieldSource source)
    {
        FieldSchema field = source.Field;
        IReadOnlyList<string> units = Units.For(field);
        int sources = (source.Column is null ? 0 : 1) + (source.Value is null ? 0 : 1) + (source.Pattern is null ? 0 : 1);
        if (sources != 1)
        {
            return ($"{(sources == 0 ? "none" : "several")} of column, value and "
                + "pattern", "just one of them, as it says where the value comes from");
        }

        if (source.Unit is { } unit && !units.Contains(unit))
        {
            return ($"the unit {unit} for {field.Name}", units.Count == 0 ? "no unit, as the field has none to choose"
                : "one of " + string.Join(", ", units));
        }

        if (source.DateOrder != DateOrder.Unstated && field.Type != FieldType.Date)
            return ($"date_order for {field.Name}", "date_order only for a date");
        if (source.IsDegrees && !field.Name.StartsWith("decimal_l", StringComparison.Ordinal))
            return ($"form for {field.Name}", "form only for decimal_latitude and decimal_longitude");
        if (source.Pattern is { } pattern && RowPattern.WhyBroken(pattern) is { } why)
            return ($"the pattern {FindingText.Quote(pattern)}, {why}", "names of columns in braces between plain text");
        return null;
    }

    private static DateOrder OrderOf(JsonObject node) => (string?)node["date_order"] switch
    {
        "iso" => DateOrder.Iso,
        "dmy" => DateOrder.Dmy,
        "mdy" => DateOrder.Mdy,
        "serial-1900" => DateOrder.Serial1900,
        "serial-1904" => DateOrder.Serial1904,
        _ => DateOrder.Unstated,
    };

    private static string TextOf(JsonNode node) => node.GetValueKind() == JsonValueKind.String ? node.GetValue<string>()
        : node.ToJsonString();

    private static void Tell(YamlDocument document, FindingList findings, string place, string code, string found, string expected,
        string mend) =>
        findings.Add(
            new Finding(code, document.Path, (int)document.LineOf(place), place.Length == 0 ? null : place[1..].Replace('/', '.'), found,
                expected, mend));
}
