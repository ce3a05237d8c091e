using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Understanding;

/// <summary>A mapping while it is made: its sections as they will stand in YAML, with what was told as remarks.</summary>
internal sealed class MappingDraft
{
    // a JSON string is a YAML string in double quotes, and every letter stays readable
    private static readonly JsonSerializerOptions Readable = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    public JsonObject File { get; } = [];

    public string OneRowIs { get; set; } = "bag";

    public JsonObject Package { get; } = [];

    public JsonObject Sites { get; } = [];

    public JsonArray Lots { get; } = [];

    public JsonObject Bags { get; } = [];

    public JsonObject Fast { get; } = [];

    public JsonObject Slow { get; } = [];

    public JsonObject Results { get; } = [];

    public JsonArray LeaveOut { get; } = [];

    public JsonObject Expected { get; } = [];

    /// <summary>The section for a bag's field: of both bags, or of one where a row has both.</summary>
    public JsonObject BagsOf(LitterRole? role) => role switch { LitterRole.Fast => Fast, LitterRole.Slow => Slow, _ => Bags };

    public static JsonObject Value(string value) => new() { ["value"] = value };

    public static JsonObject Column(AskedColumn column) => new() { ["column"] = column.Name };

    public static JsonObject Words(IEnumerable<(string Word, string Meaning)> words)
    {
        JsonObject map = [];
        foreach ((string word, string meaning) in words)
            map[word] = meaning;
        return map;
    }

    /// <summary>What one cell stands for, whatever the same text means in other rows.</summary>
    public static void SetRow(JsonObject source, string row, string text, string meaning)
    {
        JsonObject rows = source["rows"] as JsonObject ?? [];
        source["rows"] = rows;
        rows[row] = new JsonObject { [text] = meaning };
    }

    // those that will stand in the mapping
    private JsonObject[] Sections => OneRowIs == "result" ? [Sites, Results] : [Sites, Bags, Fast, Slow];

    /// <summary>The columns that a field comes from, or a running number is made within.</summary>
    public HashSet<string> UsedColumns()
    {
        HashSet<string> used = [];
        foreach (JsonObject section in Sections)
            AddColumns(section, used);
        foreach (JsonNode? within in (File["count"] as JsonArray ?? []).SelectMany(count => count!["within"] as JsonArray ?? []))
            used.Add(((string)within!).Trim());
        return used;
    }

    /// <param name="columns">All columns of the table; those that no field comes from are left out by name.</param>
    public string Written(string file, IEnumerable<string> remarks, IEnumerable<string> columns)
    {
        HashSet<string> used = [];
        foreach (JsonObject section in Sections)
            AddColumns(section, used);
        foreach (string column in columns.Where(column => !used.Contains(column.Trim())))
            LeaveOut.Add(column);
        StringBuilder text = new();
        text.Append($"# How {ReceivedText.OneLine(file)} is read, by decayatlas map-columns.\n");
        foreach (string remark in remarks)
            text.Append($"# {ReceivedText.OneLine(ReceivedText.Masked(remark))}\n");
        text.Append("version: 1\n");
        JsonObject root = new()
        {
            ["file"] = File.DeepClone(),
            ["one_row_is"] = OneRowIs,
            ["package"] = Package.DeepClone(),
            ["sites"] = Sites.DeepClone()
        };
        if (Lots.Count > 0)
            root["lots"] = Lots.DeepClone();
        if (OneRowIs == "result")
        {
            root["results"] = Results.DeepClone();
        }
        else
        {
            root["bags"] = Bags.DeepClone();
            if (OneRowIs == "burial")
            {
                root["fast"] = new JsonObject { ["bags"] = Fast.DeepClone() };
                root["slow"] = new JsonObject { ["bags"] = Slow.DeepClone() };
            }
        }
        if (Expected.Count > 0)
            root["expected"] = Expected.DeepClone();
        root["leave_out"] = LeaveOut.DeepClone();
        foreach ((string name, JsonNode? node) in root)
            Section(text, name, node!, 0);
        return text.ToString();
    }

    private static void AddColumns(JsonNode? node, HashSet<string> used)
    {
        if (node is JsonArray list)
        {
            foreach (JsonNode? entry in list)
                AddColumns(entry, used);
        }
        if (node is not JsonObject map)
            return;
        if (map["column"] is JsonValue column)
            used.Add(((string)column!).Trim());
        if (map["colour_of"] is JsonArray coloured)
            used.UnionWith(coloured.Select(name => ((string)name!).Trim()));
        if (map["pattern"] is JsonValue pattern)
            used.UnionWith(RowPattern.Columns((string)pattern!).Select(name => name.Trim()));
        foreach ((_, JsonNode? value) in map)
            AddColumns(value, used);
    }

    // what has sections of its own in lines of their own, all else in braces
    private static void Section(StringBuilder text, string name, JsonNode node, int indent)
    {
        text.Append(' ', indent).Append(Key(name)).Append(':');
        switch (node)
        {
            case JsonObject { Count: > 0 } map when indent == 0 || name == "bags":
                text.Append('\n');
                foreach ((string field, JsonNode? value) in map)
                    Section(text, field, value!, indent + 2);
                break;
            case JsonArray { Count: > 0 } list when name == "lots":
                text.Append('\n');
                foreach (JsonNode? entry in list)
                    text.Append(' ', indent + 2).Append("- ").Append(Flow(entry!)).Append('\n');
                break;
            default:
                text.Append(' ').Append(Flow(node)).Append('\n');
                break;
        }
    }

    private static string Flow(JsonNode node) => node switch
    {
        JsonObject { Count: 0 } => "{}",
        JsonObject map => "{ " + string.Join(", ", map.Select(entry => $"{Key(entry.Key)}: {Flow(entry.Value!)}")) + " }",
        JsonArray list => $"[{string.Join(", ", list.Select(entry => Flow(entry!)))}]",
        _ => node.GetValueKind() == JsonValueKind.String ? Quote(node.GetValue<string>()) : node.ToJsonString(),
    };

    private static string Key(string name) => name.Length > 0 && name.All(c => char.IsAsciiLetterLower(c) || c == '_')
        && name is not ("yes" or "no"
        or "on" or "off" or "y" or "n" or "true" or "false" or "null") ? name : Quote(name);

    private static string Quote(string text) =>
        JsonSerializer.Serialize(text, Readable);
}
