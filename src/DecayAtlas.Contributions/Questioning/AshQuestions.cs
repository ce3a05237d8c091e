using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning;

/// <summary>Ash: a share that was measured of what was dug up is read, masses without their ash cannot be.</summary>
internal sealed class AshQuestions(AskedTable table)
{
    private readonly Interview _ask = table.Ask;

    public void Make()
    {
        AskedColumn[] free = [.. table.Chosen.Where(entry => IsMass(entry.Key.Field) && entry.Value.Sense.Has(Concept.AshFree))
            .Select(entry => entry.Value).Distinct()];
        if (free.Length > 0 && _ask.Choose(Interview.Meaning, "ash-free", [_ask.Option("no", "ash-free-no"),
            _ask.Option("yes", "ash-free-yes")], null, [.. free.SelectMany(column => column.Seen().Take(3))],
            string.Join(", ", free.Select(column => column.Name))) == "yes")
        {
            table.IsHopeless = "ash-free";
        }
        foreach (LitterRole? role in table.Roles)
        {
            if (table.Of(ColumnChoice.Ash, role) is not { IsNumbers: true } ash || (role is not null && table.RoleOf(ash) != role))
                continue;
            string? answer = _ask.Choose(Interview.Meaning, "ash:" + ash.Name,
                [_ask.Option("percent", "ash-percent"), _ask.Option("fraction", "ash-fraction"), _ask.Option("other", "ash-other")],
                ash.Sense.Unit == "percent" ? "percent" : null, ash.Seen(), ash.Name);
            if (answer is not ("percent" or "fraction"))
                continue;
            JsonObject source = MappingDraft.Column(ash);
            NumberForm.Of(ash)[0].WriteInto(source, ash);
            source["unit"] = answer;
            string[] none = [.. ash.Distinct.Where(StateWords.IsNoValue)];
            if (none.Length > 0)
                source["words"] = MappingDraft.Words(none.Select(text => (text, "")));
            table.Draft.BagsOf(role)["ash_fraction"] = source;
        }
    }

    private static bool IsMass(string field) =>
        field is ColumnChoice.Initial or ColumnChoice.Final or ColumnChoice.Loss or ColumnChoice.Remaining;
}
