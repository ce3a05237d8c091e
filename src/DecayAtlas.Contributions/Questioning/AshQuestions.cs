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
            if (table.Of(ColumnChoice.Ash, role) is { IsNumbers: true } ash && (role is null || table.RoleOf(ash) == role))
                MeasuredShare.Ask(table, role, ash, "ash", "ash_fraction");
        }
    }

    private static bool IsMass(string field) =>
        field is ColumnChoice.Initial or ColumnChoice.Final or ColumnChoice.Loss or ColumnChoice.Remaining;
}
