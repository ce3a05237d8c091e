using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Columns;

/// <summary>A share that was measured of each bag, of ash or of water: whether its column holds per cent or fractions is asked.</summary>
internal static class MeasuredShare
{
    /// <param name="kind">Names the question and the words of its choices.</param>
    /// <param name="field">Of the bags, in the schema.</param>
    public static void Ask(AskedTable table, LitterRole? role, AskedColumn column, string kind, string field)
    {
        string? answer = table.Ask.Choose(Interview.Meaning, $"{kind}:{column.Name}",
            [table.Ask.Option("percent", kind + "-percent"), table.Ask.Option("fraction", kind + "-fraction"),
                table.Ask.Option("other", "ash-other")],
            column.Sense.Unit == "percent" ? "percent" : null, column.Seen(), column.Name);
        if (answer is not ("percent" or "fraction"))
            return;
        JsonObject source = MappingDraft.Column(column);
        NumberForm.Of(column)[0].WriteInto(source, column);
        source["unit"] = answer;
        string[] none = [.. column.Distinct.Where(StateWords.IsNoValue)];
        if (none.Length > 0)
            source["words"] = MappingDraft.Words(none.Select(text => (text, "")));
        table.Draft.BagsOf(role)[field] = source;
    }
}
