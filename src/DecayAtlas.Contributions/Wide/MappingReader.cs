using System.Globalization;
using System.Reflection;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Wide;

internal sealed class MappingReader(YamlDocument document, FindingList findings)
{
    /// <summary>What a person still has to decide begins with this word.</summary>
    public const string Todo = "TODO";

    private static readonly Lazy<string> SchemaText = new(() =>
    {
        using Stream stream = Assembly.GetExecutingAssembly().GetManifestResourceStream("mapping-v1.schema.json")!;
        using StreamReader reader = new(stream, Encoding.UTF8);
        return reader.ReadToEnd();
    });

    /// <summary>The signs between cells by their names.</summary>
    public static IReadOnlyDictionary<string, char> Separators { get; } = new Dictionary<string, char>
    {
        ["comma"] = ',',
        ["semicolon"] = ';',
        ["tab"] = '\t',
        ["bar"] = '|',
        ["spaces"] = TextTable.Spaces,
    };

    public static string Schema => SchemaText.Value;

    /// <summary>Reads a mapping; null when it has findings.</summary>
    public static Mapping? Read(PackageFile file, FindingList findings)
    {
        int before = findings.Count;
        MappingReader reader;
        try
        {
            YamlDocument document = YamlDocument.Parse(file.Path, file.Open);
            reader = new MappingReader(document, findings);
            reader.TellUnfinished(document.Root, "");
            if (findings.Count > before)
                return null;
            document.Validate(Schema);
        }
        catch (YamlDocumentException fault)
        {
            string sentence = fault.Sentence.Length == 0 ? fault.Message
                : fault.Sentence.StartsWith("found ", StringComparison.Ordinal) ? fault.Sentence[6..] : fault.Sentence;
            findings.Add(new Finding(FindingCode.MappingBroken, file.Path, (int?)fault.Line, null, FindingText.Plain(sentence),
                    "a mapping as schemas/mapping-v1.schema.json describes it", "correct the mapping"));
            return null;
        }
        Mapping mapping = reader.ToMapping();
        return findings.Count > before ? null : mapping;
    }

    private void TellUnfinished(JsonNode? node, string place)
    {
        switch (node)
        {
            case JsonObject map:
                foreach ((string name, JsonNode? value) in map)
                {
                    string at = $"{place}/{JsonPlace.Escaped(name)}";
                    if (name.StartsWith(Todo, StringComparison.Ordinal))
                        Unfinished(at, name);
                    TellUnfinished(value, at);
                }
                break;
            case JsonArray list:
                for (int i = 0; i < list.Count; i++)
                    TellUnfinished(list[i], Invariant($"{place}/{i}"));
                break;
            case JsonValue value
                when value.GetValueKind() == JsonValueKind.String && value.GetValue<string>().StartsWith(Todo, StringComparison.Ordinal):
                Unfinished(place, value.GetValue<string>());
                break;
        }

        void Unfinished(string at, string text) => Tell(at, FindingCode.MappingUnfinished, FindingText.Quote(text),
            "a decision that only a person who knows the file can make",
            "read the remark beside it and write what is true of your file");
    }

    private Mapping ToMapping()
    {
        JsonObject root = document.Root.AsObject();
        JsonObject form = root["file"] as JsonObject ?? [];
        string row = (string)root["one_row_is"]!;
        bool isBurial = row == "burial";
        TellSectionsAtOdds(root, row);
        JsonArray? stated = root["lots"] as JsonArray;
        List<TableSources> tables = [Sources("sites", null)];
        if (row == "result")
        {
            tables.Add(Sources("results", null));
        }
        else
        {
            string?[] roles = isBurial ? ["fast", "slow"] : [null];
            if (stated is null)
                tables.AddRange(roles.Select(role => Sources("lots", role)));
            tables.AddRange(roles.Select(role => Sources("bags", role)));
            tables.AddRange(roles.Where(role => root["samples"] is not null || (role is not null && root[role]?["samples"] is not null))
                .Select(role => Sources("samples", role)));
        }
        foreach (string column in Words(root["undecided"]))
        {
            Tell("/undecided", FindingCode.ColumnUndecided, $"the column {FindingText.Quote(column)} undecided",
                "a field for it, or its name under leave_out", "give it to a field or move it to leave_out");
        }

        int? headerRow = form["header_row"] is { } at ? (int)double.Parse(TextOf(at), CultureInfo.InvariantCulture) : null;
        char? separator = (string?)form["separator"] is { } name ? Separators[name] : null;
        LayoutWishes? asFound = (string?)form["layout"] == "as-found"
            ? new LayoutWishes((string?)form["sheet"], headerRow, separator,
                form["layout_answers"] is { } answers ? TextsOf(answers) : LayoutWishes.None.Answers) : null;
        TellLayoutAtOdds(form, asFound);
        WideForm wide = new((string?)form["sheet"], headerRow ?? 1, (string?)form["encoding"], separator ?? ',',
            (string?)form["decimal_sign"] == "comma", OrderOf(form), Words(form["empty_words"]).ToHashSet(), asFound)
        {
            Counted =
            [
                .. (form["count"] as JsonArray ?? []).Select(count => new CountedColumn((string)count!["name"]!,
                    [.. Words(count["within"])])),
            ],
            LeaveOutRows = (form["leave_out_rows"] as JsonArray ?? []).Select(row => TextOf(row!)).ToHashSet(),
        };
        return new Mapping(document.Path, wide, tables,
            [.. (stated ?? []).Select((lot, i) => new StatedLot(TextsOf(lot!), Invariant($"/lots/{i}")))],
            TextsOf(root["package"]!), [.. Words(root["leave_out"])], document)
        {
            Expected = root["expected"] is JsonObject expected
                ? new ExpectedDays(Days(expected["buried_on"], "/expected/buried_on"), Days(expected["retrieved_on"],
                    "/expected/retrieved_on")) : null,
        };
    }

    private DayRange? Days(JsonNode? node, string place)
    {
        if (node is not JsonArray { Count: 2 } days)
            return null;
        if (DateOnly.TryParseExact(TextOf(days[0]!), "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly from)
            && DateOnly.TryParseExact(TextOf(days[1]!), "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly to)
            && from <= to)
        {
            return new DayRange(from, to);
        }
        Tell(place, FindingCode.MappingBroken, FindingText.Quote(days.ToJsonString()), "a first and a last day, YYYY-MM-DD",
            "correct the days");
        return null;
    }

    private void TellLayoutAtOdds(JsonObject form, LayoutWishes? asFound)
    {
        if (asFound is null && form["layout_answers"] is not null)
        {
            Tell("/file/layout_answers", FindingCode.MappingBroken, "layout_answers without layout: as-found",
                "layout_answers only where the layout is found by the program", "add layout: as-found, or take layout_answers out");
        }
        if (asFound is null && (string?)form["separator"] == "spaces")
        {
            Tell("/file/separator", FindingCode.MappingBroken, "separator: spaces without layout: as-found",
                "spaces only where the layout is found by the program", "add layout: as-found");
        }
    }

    // What one row is decides which sections there must be, and which there cannot be.
    private void TellSectionsAtOdds(JsonObject root, string row)
    {
        (string[] needed, string[] unfit) = row switch
        {
            "burial" => (["lots", "bags", "fast", "slow"], ["results"]),
            "result" => (["results"], ["bags", "samples", "fast", "slow"]),
            _ => (new[] { "lots", "bags" }, new[] { "results", "fast", "slow" }),
        };
        foreach (string section in needed.Where(section => root[section] is null))
        {
            Tell("/one_row_is", FindingCode.MappingIncomplete, $"one_row_is: {row} without a section {section}",
                $"the sections {string.Join(", ", needed)}", $"add {section}: with its fields below it");
        }
        foreach (string section in unfit.Where(section => root[section] is not null))
        {
            Tell("/" + section, FindingCode.MappingIncomplete, $"a section {section} beside one_row_is: {row}",
                "results where a row has means, bags where it has one bag, fast and slow where it has both bags of a burial",
                "correct one_row_is, or move what is in the section; weighings and means go in two tables, or in one workbook or data "
                + "package");
        }
        if (row == "result" && root["lots"] is JsonObject)
        {
            Tell("/lots", FindingCode.MappingIncomplete, "lots with columns beside one_row_is: result",
                "a list of lots written out, as a row of means names two of them", "write the lots out, each with - lot_id:");
        }
    }

    private static IEnumerable<string> Words(JsonNode? list) => (list as JsonArray ?? []).Select(word => (string)word!);

    private static Dictionary<string, string> TextsOf(JsonNode map) =>
        map.AsObject().ToDictionary(entry => entry.Key, entry => TextOf(entry.Value!));

    private TableSources Sources(string table, string? role)
    {
        TableSchema schema = SchemaCatalogue.Tables.First(candidate => candidate.Name == table);
        Dictionary<string, FieldSource> sources = [];
        if (document.Root[table] is JsonObject common)
            Add(common, "/" + table, isOwn: false);
        if (role is not null && document.Root[role]?[table] is JsonObject own)
            Add(own, $"/{role}/{table}", isOwn: true);
        if (role is not null && schema.FindOrdinal("role") >= 0 && !sources.ContainsKey("role"))
        {
            sources["role"] = new FieldSource(schema.Fields[schema.OrdinalOf("role")], null, role, null, null, DateOrder.Unstated,
                new Dictionary<string, string>(), "/" + role, false);
        }

        foreach (FieldSchema field in schema.Fields.Where(field => field.Required && !sources.ContainsKey(field.Name)))
        {
            Tell(document.Root[table] is null ? "" : "/" + table,
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
                    Tell($"{place}/{name}/words", FindingCode.MappingBroken,
                        $"the word {FindingText.Quote(word)} twice, spaces aside", "each word once", "take one of the two out");
                }

                FieldSource source = SourceOf(schema.Fields[schema.OrdinalOf(name)], node!.AsObject(), $"{place}/{name}", isOwn);
                sources[name] = source;
                if (WhyAtOdds(source) is { } why)
                    Tell(source.Place, FindingCode.MappingBroken, why.Found, why.Expected, "correct the mapping");
            }
        }
    }

    private static FieldSchema Mass { get; } = SchemaCatalogue.Bags.Fields[SchemaCatalogue.Bags.OrdinalOf("mass_final_g")];

    private static FieldSource SourceOf(FieldSchema field, JsonObject node, string place, bool isOwn) => new FieldSource(
        field,
        (string?)node["column"],
        node["value"] is { } value ? TextOf(value) : null,
        (string?)node["pattern"],
        (string?)node["unit"],
        OrderOf(node),
        (node["words"] as JsonObject ?? []).DistinctBy(entry => entry.Key.Trim())
            .ToDictionary(entry => entry.Key.Trim(), entry => TextOf(entry.Value!)),
        place,
        isOwn)
    {
        Form = (string?)node["form"] switch
        {
            "degrees-minutes-seconds" => SourceForm.Degrees,
            "id" => SourceForm.Id,
            "listed" => SourceForm.Listed,
            "beside-number" => SourceForm.Beside,
            "comment" => SourceForm.Comment,
            "colour" => SourceForm.Fill,
            "loss" => SourceForm.Loss,
            "change" => SourceForm.Change,
            "mass-share" => SourceForm.MassShare,
            "remaining" => SourceForm.Remaining,
            _ => SourceForm.Plain,
        },
        DecimalSign = (string?)node["decimal_sign"] switch { "comma" => ',', "point" => '.', "either" => '\0', _ => null },
        Thousands = (string?)node["thousands"] switch { "comma" => ',', "point" => '.', "space" => ' ', "apostrophe" => '\'', _ => '\0' },
        IsWritten = (bool?)node["as_written"] ?? false,
        Year = NumberOf(node["year"]),
        Century = NumberOf(node["century"]),
        IsShareOfAll = (string?)node["share_of"] == "all",
        RowWords = (node["rows"] as JsonObject ?? []).DistinctBy(entry => entry.Key.Trim()).ToDictionary(entry => entry.Key.Trim(),
            entry => (IReadOnlyDictionary<string, string>)entry.Value!.AsObject().DistinctBy(word => word.Key.Trim())
                .ToDictionary(word => word.Key.Trim(), word => TextOf(word.Value!))),
        Less = node["less"] is JsonObject less ? SourceOf(field, less, place + "/less", isOwn) : null,
        Of = node["of"] is JsonObject of ? SourceOf(Mass, of, place + "/of", isOwn) : null,
        Unless = node["unless"] is not JsonObject unless ? null
            : new UnlessWords(unless["column"] is { } named ? [((string)named!).Trim()]
                : [.. Words(unless["columns"] ?? unless["colour_of"]).Select(column => column.Trim())],
                unless["colour_of"] is not null, [.. Words(unless["words"])]),
        Or = [.. (node["or"] as JsonArray ?? []).Select((other, i) => SourceOf(field, other!.AsObject(), Invariant($"{place}/or/{i}"),
            isOwn))],
    };

    private static int? NumberOf(JsonNode? node) =>
        node is null ? null : (int)double.Parse(TextOf(node), CultureInfo.InvariantCulture);

    private static string? TwiceIn(JsonObject words)
    {
        HashSet<string> seen = [];
        return words.Select(entry => entry.Key.Trim()).FirstOrDefault(word => !seen.Add(word));
    }

    private static (string Found, string Expected)? WhyAtOdds(FieldSource source)
    {
        FieldSchema field = source.Field;
        IReadOnlyList<string> units = Units.For(source.Form == SourceForm.MassShare ? Mass : field);
        int sources = (source.Column is null ? 0 : 1) + (source.Value is null ? 0 : 1) + (source.Pattern is null ? 0 : 1);
        if (sources != 1)
        {
            return ($"{(sources == 0 ? "none" : "several")} of column, value and "
                + "pattern", "just one of them, as it says where the value comes from");
        }

        if (source.IsShare && field.Name != "mass_final_g")
            return ("a loss or a remaining share for " + field.Name, "form: loss and form: remaining only for mass_final_g");
        if (source.Form == SourceForm.MassShare ? field.Name != "ash_fraction" : source.Of is not null)
        {
            return (source.Form == SourceForm.MassShare ? "form: mass-share for " + field.Name : "of: without form: mass-share",
                "form: mass-share only for ash_fraction, and of: only beside it");
        }
        if (source.Unit is { } unit && !units.Contains(unit) && !(source.IsShare && unit is "percent" or "fraction"))
        {
            return ($"the unit {unit} for {field.Name}", units.Count == 0 ? "no unit, as the field has none to choose"
                : "one of " + string.Join(", ", units));
        }

        if (source.DateOrder != DateOrder.Unstated && field.Type != FieldType.Date)
            return ($"date_order for {field.Name}", "date_order only for a date");
        if (source.Less is not null && (source.IsShare || field.Name is not ("mass_initial_g" or "mass_final_g")))
            return ("less for " + field.Name, "less only for mass_initial_g and mass_final_g, where they are no share or loss");
        if (source.RowWords.Count > 0 && source.Column is null)
            return ("rows without a column", "rows only beside column, as they say what its cells stand for");
        foreach (FieldSource other in source.WithOthers.Skip(1))
        {
            if (WhyAtOdds(other) is { } why)
                return why;
        }
        if (source.Form == SourceForm.Degrees && !field.IsCoordinate)
            return ($"form for {field.Name}", "form only for decimal_latitude and decimal_longitude");
        if (source.Pattern is { } pattern && RowPattern.WhyBroken(pattern) is { } fault)
            return ($"the pattern {FindingText.Quote(pattern)}, {fault}", "names of columns in braces between plain text");
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

    private void Tell(string place, string code, string found, string expected, string mend) => findings.Add(new Finding(code,
        document.Path, (int)document.LineOf(place), place.Length == 0 ? null : JsonPlace.NameOf(place), found, expected, mend));
}
