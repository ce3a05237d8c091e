using System.Globalization;
using System.Reflection;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Campaigns;

/// <summary>Reads the campaign file (YAML, schemas/campaign-v1.schema.json). Fields of lots and of bags are held to the open schema, as in
/// a contribution.</summary>
public sealed class CampaignReader
{
    /// <summary>Longest contribution id, of which the ids of campaign and group are the parts.</summary>
    private const int LongestName = 100;

    private static readonly Lazy<string> SchemaText = new(() =>
    {
        using Stream stream = Assembly.GetExecutingAssembly().GetManifestResourceStream("campaign-v1.schema.json")!;
        using StreamReader reader = new(stream, Encoding.UTF8);
        return reader.ReadToEnd();
    });

    private readonly YamlDocument _document;

    // of texts that stand there without one
    private string _language = "en";

    private CampaignReader(YamlDocument document) => _document = document;

    /// <exception cref="ConfigurationException">The file is not usable; the message names file and line.</exception>
    public static Campaign Read(string path) => Read(path, () => File.OpenRead(path));

    /// <param name="name">Stands for the file in messages.</param>
    /// <exception cref="ConfigurationException">The file is not usable; the message names file and line.</exception>
    public static Campaign Read(string name, Func<Stream> open) => Begin(name, open).Judged();

    private static CampaignReader Begin(string name, Func<Stream> open) => Guarded(() =>
    {
        YamlDocument document = YamlDocument.Parse(name, open);
        document.Validate(SchemaText.Value);
        return new CampaignReader(document);
    });

    private Campaign Judged() => Guarded(ToCampaign);

    private static T Guarded<T>(Func<T> read)
    {
        try
        {
            return read();
        }
        catch (YamlDocumentException fault)
        {
            throw new ConfigurationException(fault.Message, fault);
        }
    }

    /// <summary>Whether a text that stands elsewhere than in the file can be the id of a group.</summary>
    public static bool IsId(string text) => text.Length is > 0 and <= 64 && char.IsAsciiLetterOrDigit(text[0])
        && text.All(c => char.IsAsciiLetterOrDigit(c) || c is '.' or '_' or '-');

    /// <summary>What a file says, for pages that everybody may open: without remarks, and without how to hand in and what the curator
    /// warns of, which may name people. JSON, which is YAML.</summary>
    /// <param name="groupId">The one group that the page is made for, so that it need not ask who sends; null for all.</param>
    /// <exception cref="ConfigurationException">The file is missing or not a campaign file.</exception>
    public static string ForPages(string path, string? groupId = null)
    {
        CampaignReader reader = Begin(path, () => File.OpenRead(path));
        reader.Judged();
        JsonObject plain = reader._document.Root.DeepClone().AsObject();
        foreach (JsonObject part in (plain["groups"] as JsonArray ?? []).OfType<JsonObject>().Prepend(plain))
        {
            part.Remove("hand_in");
            part.Remove("cautions");
        }
        if (groupId is not null)
        {
            JsonNode? own = (plain["groups"] as JsonArray ?? []).FirstOrDefault(group => Text(group!, "id") == groupId);
            plain["groups"] = new JsonArray(own?.DeepClone() ?? new JsonObject { ["id"] = groupId });
        }
        return plain.ToJsonString(JsonText.Options);
    }

    private Campaign ToCampaign()
    {
        JsonNode root = _document.Root;
        _language = Text(root, "language") ?? _language;
        Campaign campaign = new(Text(root, "campaign")!, Text(root, "protocol")!)
        {
            Title = Local(root["title"], "/title"),
            Licence = Text(root, "licence"),
            Language = _language,
            HandIn = Local(root["hand_in"], "/hand_in"),
            Cautions = Locals(root["cautions"], "/cautions"),
            Bury = Days("bury"),
            DigUp = Days("dig_up"),
            Lots = [.. root["lots"]!.AsArray().Select((lot, i) => Values(lot!, SchemaCatalogue.Lots, Invariant($"/lots/{i}")))],
            Bags = Values(root["bags"]!, SchemaCatalogue.Bags, "/bags"),
            Treatments = Locals(root["treatments"], "/treatments"),
            Words = (root["words"] as JsonObject ?? []).ToDictionary(word => word.Key, word => word.Value!.GetValue<string>()),
            BurialsPerGroup = Whole(root, "burials"),
            Experiment = root["experiment"] is not { } two ? null
                : new SchoolExperiment(Local(two["warm"], "/experiment/warm")!, Local(two["cold"], "/experiment/cold")!,
                    Number(two, "degrees_apart"), Number(two, "scatter_of_k")),
            Groups = [.. (root["groups"] as JsonArray ?? []).Select((group, i) => GroupOf(group!, Invariant($"/groups/{i}")))],
        };
        if (campaign.Licence is { } licence && !OpenLicence.IsOne(licence))
            throw Wrong("/licence", licence, OpenLicence.Expected, OpenLicence.MendOf(licence));
        RequireLots(campaign);
        RequireDays(campaign);
        FieldSchema treatment = SchemaCatalogue.Bags.Fields[SchemaCatalogue.Bags.OrdinalOf("treatment")];
        for (int i = 0; i < campaign.Treatments.Count; i++)
        {
            if (campaign.Treatments.Take(i).Any(other => other.Plain == campaign.Treatments[i].Plain))
                throw Wrong(Invariant($"/treatments/{i}"), $"the treatment {campaign.Treatments[i].Plain} twice", "each treatment once");
            foreach (string text in campaign.Treatments[i].ByLanguage.Values)
                Require(treatment, text, Invariant($"/treatments/{i}"));
        }
        RequireWords(campaign);
        RequireGroups(campaign);
        return campaign;
    }

    private CampaignGroup GroupOf(JsonNode group, string place) => new(Text(group, "id")!)
    {
        Title = Text(group, "title"),
        CountryCode = Text(group, "country_code"),
        Language = Text(group, "language"),
        HandIn = Local(group["hand_in"], place + "/hand_in", Text(group, "language")),
        Cautions = Locals(group["cautions"], place + "/cautions", Text(group, "language")),
        Burials = Whole(group, "burials"),
        FirstBurial = Whole(group, "first_burial") ?? 1,
        Lots = Texts(group["lots"]),
    };

    private Dictionary<string, string> Values(JsonNode node, TableSchema table, string place)
    {
        Dictionary<string, string> values = [];
        foreach ((string name, JsonNode? value) in node.AsObject())
        {
            string at = $"{place}/{JsonPlace.Escaped(name)}";
            int ordinal = table.FindOrdinal(name);
            if (ordinal < 0)
            {
                string near = Nearest.Of(name, table.ColumnNames) is { } field ? $" ({field}, if that was meant)" : "";
                throw Wrong(at, name, $"a field of the table of {table.Name}{near}");
            }

            string text = value!.GetValueKind() == JsonValueKind.String ? value.GetValue<string>() : value.ToJsonString();
            Require(table.Fields[ordinal], text, at);
            values.Add(name, text);
        }

        return values;
    }

    private void Require(FieldSchema field, string text, string place)
    {
        Cell cell = default;
        Finding? fault = text.Length == 0 ? CellCheck.Missing(field) : CellCheck.Read(field, text, ref cell);
        if (fault is not null)
            throw Wrong(place, fault.Found, fault.Expected, fault.Mend);
    }

    private void RequireLots(Campaign campaign)
    {
        foreach ((int i, IReadOnlyDictionary<string, string> lot) in campaign.Lots.Index())
        {
            foreach (FieldSchema field in SchemaCatalogue.Lots.Fields.Where(field => field.Required && !lot.ContainsKey(field.Name)))
            {
                throw Wrong(Invariant($"/lots/{i}"), $"no {field.Name}", CellCheck.Expected(field),
                    "copy it from the sheet that came with the lot");
            }

            if (campaign.Lots.Take(i).Any(other => other["lot_id"] == lot["lot_id"]))
                throw Wrong(Invariant($"/lots/{i}/lot_id"), $"the lot {lot["lot_id"]} twice", "each lot once");
        }

        foreach (string role in new[] { "fast", "slow" })
        {
            if (campaign.Lots.All(lot => lot["role"] != role))
                throw Wrong("/lots", $"no {role} lot", "at least one fast and one slow lot");
        }
    }

    private void RequireDays(Campaign campaign)
    {
        foreach ((string name, DayRange? days) in new[] { ("bury", campaign.Bury), ("dig_up", campaign.DigUp) })
        {
            if (days is not null && days.To < days.From)
                throw Wrong($"/{name}/to", $"{days.To:O}, which is before {days.From:O}", "a day that is not before from");
        }

        if (campaign is { Bury: { } bury, DigUp: { } digUp } && digUp.From <= bury.To)
            throw Wrong("/dig_up/from", $"{digUp.From:O}", $"a day after {bury.To:O}, the last day for burying");
    }

    private void RequireWords(Campaign campaign)
    {
        string[] known =
        [
            .. SchemaCatalogue.Tables.SelectMany(table => table.Fields).SelectMany(field => field.Choices).Concat(["yes", "no"])
                .Distinct(StringComparer.Ordinal),
        ];
        foreach ((string word, string meant) in campaign.Words)
        {
            if (!known.Contains(meant))
            {
                throw Wrong($"/words/{JsonPlace.Escaped(word)}", meant, "a word of the schema or of the vocabularies",
                    Nearest.Of(meant, known) is { } near ? $"write {near}, if that was meant" : "take one of docs/data-dictionary.md");
            }
        }
    }

    private static readonly HashSet<string> KeptByWindows = new([
        "con", "prn", "aux", "nul",
        .. Enumerable.Range(0, 10).SelectMany(i => new[] { Invariant($"com{i}"), Invariant($"lpt{i}") }),
    ], StringComparer.OrdinalIgnoreCase);

    private void RequireGroups(Campaign campaign)
    {
        foreach ((int i, CampaignGroup group) in campaign.Groups.Index())
        {
            string place = Invariant($"/groups/{i}");
            if (campaign.Groups.Take(i).Any(other => other.Id.Equals(group.Id, StringComparison.OrdinalIgnoreCase)))
                throw Wrong(place + "/id", $"the group {group.Id} twice, capitals aside", "each group once");
            // files of a group are named after it
            if (group.Id.EndsWith('.') || KeptByWindows.Contains(group.Id.Split('.')[0]))
                throw Wrong(place + "/id", group.Id, "an id that is also the name of a file on every system", "add a word to it");
            if (campaign.Id.Length + 1 + group.Id.Length > LongestName)
            {
                throw Wrong(place + "/id", Invariant($"{campaign.Id.Length + 1 + group.Id.Length} letters with the id of the campaign"),
                    Invariant($"at most {LongestName}, since both name the contribution"), "shorten one of the two");
            }

            foreach ((int lot, string id) in group.Lots.Index())
            {
                if (campaign.Lots.All(l => l["lot_id"] != id))
                    throw Wrong(Invariant($"{place}/lots/{lot}"), id, "the id of a lot of this file");
            }

            if (group.Lots.Count > 0 && (campaign.LotOf(group, "fast") is null || campaign.LotOf(group, "slow") is null))
                throw Wrong(place + "/lots", "two lots of one role", "a fast and a slow lot");
        }
    }

    private DayRange? Days(string name) => _document.Root[name] is { } days ? new DayRange(Day(days, name, "from"), Day(days, name, "to"))
        : null;

    private DateOnly Day(JsonNode days, string name, string end)
    {
        string text = Text(days, end)!;
        return DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day) ? day
            : throw Wrong($"/{name}/{end}", text, "a day that exists, as 2027-04-12");
    }

    /// <summary>A text as it stands, or texts by language.</summary>
    /// <param name="language">In which a text alone is written; null for that of the campaign.</param>
    private LocalText? Local(JsonNode? node, string place, string? language = null)
    {
        if (node is not JsonObject texts)
            return node is null ? null : LocalText.Of(node.GetValue<string>(), language ?? _language);
        Dictionary<string, string> byLanguage = texts.ToDictionary(entry => entry.Key, entry => entry.Value!.GetValue<string>());
        foreach (string code in byLanguage.Keys.Where(code => code.Length is < 2 or > 3 || !code.All(char.IsAsciiLetterLower)))
            throw Wrong($"{place}/{JsonPlace.Escaped(code)}", code, "the code of a language, as de");
        return new LocalText(byLanguage.GetValueOrDefault(language ?? _language) ?? byLanguage.Values.First(), byLanguage);
    }

    private LocalText[] Locals(JsonNode? list, string place, string? language = null) =>
        [.. (list as JsonArray ?? []).Select((text, i) => Local(text, Invariant($"{place}/{i}"), language)!)];

    private static string? Text(JsonNode node, string name) => node[name]?.GetValue<string>();

    private static double? Number(JsonNode node, string name) =>
        node[name] is { } value ? double.Parse(value.ToJsonString(), CultureInfo.InvariantCulture) : null;

    private static int? Whole(JsonNode node, string name) => (int?)Number(node, name);

    private static string[] Texts(JsonNode? list) => [.. (list as JsonArray ?? []).Select(text => text!.GetValue<string>())];

    private YamlDocumentException Wrong(string place, string found, string expected, string? mend = null) =>
        _document.At(place, $"{JsonPlace.NameOf(place)}: found {found}, expected {expected}{(mend is null ? "" : $"; {mend}")}.");
}
