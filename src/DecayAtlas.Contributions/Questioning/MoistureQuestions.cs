using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning;

/// <summary>The share of water in the litter at a weighing, where a column tells it: the water of each bag goes before what the campaign
/// says of drying.</summary>
internal sealed class MoistureQuestions(AskedTable table)
{
    private static readonly (string Column, string Field)[] Weighings =
    [
        (ColumnChoice.MoistureInitial, "moisture_initial_fraction"), (ColumnChoice.MoistureFinal, "moisture_final_fraction"),
    ];

    public void Make()
    {
        foreach (LitterRole? role in table.Roles)
        {
            foreach ((string column, string field) in Weighings)
            {
                if (table.Of(column, role) is { IsNumbers: true } moisture)
                    Ask(role, moisture, field);
            }
            if (table.Of(ColumnChoice.Moisture, role) is { IsNumbers: true, Filled: > 0 } open)
                OfWhich(role, open);
        }
    }

    // a column that does not say of which weighing, nor whether it is of litter or of soil
    private void OfWhich(LitterRole? role, AskedColumn column)
    {
        string? answer = table.Ask.Choose(Interview.Meaning, "moisture-of:" + column.Name,
            [table.Ask.Option("last", "moisture-of-last"), table.Ask.Option("first", "moisture-of-first"),
                table.Ask.Option("other", "moisture-of-other")], null, column.Seen(), column.Name);
        if (answer is "first" or "last")
            Ask(role, column, answer == "first" ? "moisture_initial_fraction" : "moisture_final_fraction");
    }

    // water is a share of the litter that was weighed; whose name says of what it is a share is not asked
    private void Ask(LitterRole? role, AskedColumn column, string field)
    {
        bool? isOfDry = WaterBasis.IsOfDry(column.Name);
        if (isOfDry is { } said)
            table.Ask.Tell(said ? "moisture-of-dry" : "moisture-of-moist", column.Filled, column.Seen(), column.Name);
        if (isOfDry == true || (isOfDry is null && MeasuredShare.Ask(table, role, column, "moisture", field,
            [table.Ask.Option("percent-dry", "moisture-percent-dry")]) == "percent-dry"))
        {
            table.Draft.BagsOf(role)[field] = OfDry(column);
        }
        else if (isOfDry == false)
        {
            JsonObject source = MeasuredShare.Source(column);
            source["unit"] = "percent";
            table.Draft.BagsOf(role)[field] = source;
        }
    }

    // of 100 parts of dry litter and u of water u / (100 + u) are water
    private static JsonObject OfDry(AskedColumn column)
    {
        JsonObject source = MeasuredShare.Source(column);
        NumberForm form = NumberForm.Of(column)[0];
        for (int row = 0; row < column.Cells.Count; row++)
        {
            if (form.Read(column, row) is { } water && water > -100)
                MassSource.AddWords(source, [(column.TextAt(row), MassSource.Text(water / (100 + water)))]);
        }
        return source;
    }
}
