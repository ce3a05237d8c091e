using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Columns;

/// <summary>A share that was measured of each bag, of ash or of water: whether its column holds per cent or fractions is asked.</summary>
internal static class MeasuredShare
{
    /// <param name="kind">Names the question and the words of its choices.</param>
    /// <param name="field">Of the bags, in the schema.</param>
    /// <param name="others">What else it may be.</param>
    /// <param name="isMass">By its own unit it is no share.</param>
    /// <returns>The answer, of which shares are read already; null while there is none.</returns>
    public static string? Ask(AskedTable table, LitterRole? role, AskedColumn column, string kind, string field,
        IReadOnlyList<Choice>? others = null, bool isMass = false)
    {
        Choice[] shares = isMass ? [] : [table.Ask.Option("percent", kind + "-percent"), table.Ask.Option("fraction", kind + "-fraction")];
        string? answer = table.Ask.Choose(Interview.Meaning, $"{kind}:{column.Name}",
            [.. shares, .. others ?? [], table.Ask.Option("other", "ash-other")],
            column.Sense.Unit == "percent" ? "percent" : null, column.Seen(), column.Name);
        if (answer is "percent" or "fraction")
        {
            JsonObject source = Source(column);
            source["unit"] = answer;
            table.Draft.BagsOf(role)[field] = source;
        }
        return answer;
    }

    /// <summary>The numbers of a column, nothing where none was measured.</summary>
    public static JsonObject Source(AskedColumn column)
    {
        JsonObject source = MappingDraft.Column(column);
        NumberForm.Of(column)[0].WriteInto(source, column);
        string[] none = [.. column.Distinct.Where(StateWords.IsNoValue)];
        if (none.Length > 0)
            source["words"] = MappingDraft.Words(none.Select(text => (text, "")));
        return source;
    }
}
