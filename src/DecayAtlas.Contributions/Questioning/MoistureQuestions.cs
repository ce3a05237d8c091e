using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning;

/// <summary>The share of water in the litter at a weighing, where a column tells it: the water of each bag goes before what the campaign
/// says of drying.</summary>
internal sealed class MoistureQuestions(AskedTable table)
{
    private readonly Interview _ask = table.Ask;

    public void Make()
    {
        foreach (LitterRole? role in table.Roles)
        {
            foreach ((string field, string target) in new[]
            {
                (ColumnChoice.MoistureInitial, "moisture_initial_fraction"), (ColumnChoice.MoistureFinal, "moisture_final_fraction"),
            })
            {
                if (table.Of(field, role) is not { IsNumbers: true } moisture)
                    continue;
                string? answer = _ask.Choose(Interview.Meaning, "moisture:" + moisture.Name,
                    [_ask.Option("percent", "moisture-percent"), _ask.Option("fraction", "moisture-fraction"),
                        _ask.Option("other", "ash-other")],
                    moisture.Sense.Unit == "percent" ? "percent" : null, moisture.Seen(), moisture.Name);
                if (answer is not ("percent" or "fraction"))
                    continue;
                JsonObject source = MappingDraft.Column(moisture);
                NumberForm.Of(moisture)[0].WriteInto(source, moisture);
                source["unit"] = answer;
                string[] none = [.. moisture.Distinct.Where(StateWords.IsNoValue)];
                if (none.Length > 0)
                    source["words"] = MappingDraft.Words(none.Select(text => (text, "")));
                table.Draft.BagsOf(role)[target] = source;
            }
        }
    }
}
