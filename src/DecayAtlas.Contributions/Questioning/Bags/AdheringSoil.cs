using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Bags;

/// <summary>A column of the soil that stuck to a bag: whether it is still in the mass after digging up only the sender knows.</summary>
internal sealed class AdheringSoil(AskedTable table)
{
    public void Make()
    {
        HashSet<string> used = table.Draft.UsedColumns();
        foreach (AskedColumn soil in table.Columns.Where(column => column is { IsNumbers: true, Filled: > 0 }
            && Units.InGrams(column.Sense.Unit) is not null && StateWords.IsOfGround(column.Name) && !used.Contains(column.Name.Trim())))
        {
            LitterRole? role = table.IsBurialRow ? table.RoleOf(soil) : null;
            if ((table.IsBurialRow && role is null) || table.Draft.BagsOf(role)["mass_final_g"] is not JsonObject last)
                continue;
            string? answer = table.Ask.Choose(Interview.Meaning, "adhering-soil:" + soil.Name,
                [table.Ask.Option("off", "adhering-soil-off"), table.Ask.Option("leave", "adhering-soil-leave")], null, soil.Seen(),
                soil.Name);
            if (answer != "off")
                continue;
            // only one thing can be taken off a weighed mass
            if (last["less"] is not null || table.Of(ColumnChoice.Final, role) is not { Filled: > 0 })
            {
                table.IsHopeless = "two-bases";
                return;
            }
            JsonObject less = MeasuredShare.Source(soil);
            if (soil.Sense.Unit != "g")
                less["unit"] = soil.Sense.Unit;
            less["or"] = new JsonArray(MappingDraft.Value("0"));
            last["less"] = less;
        }
    }
}
