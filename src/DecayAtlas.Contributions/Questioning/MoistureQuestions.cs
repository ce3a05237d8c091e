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
        }
    }
}
