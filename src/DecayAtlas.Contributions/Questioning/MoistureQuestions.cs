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
                    MeasuredShare.Ask(table, role, moisture, "moisture", field);
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
        {
            MeasuredShare.Ask(table, role, column, "moisture",
                answer == "first" ? "moisture_initial_fraction" : "moisture_final_fraction");
        }
    }
}
