using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning;

/// <summary>Ash: what was measured of what was dug up is read, as a share or as a mass; masses without their ash cannot be.</summary>
internal sealed class AshQuestions(AskedTable table)
{
    private const string Field = "ash_fraction";

    private readonly Interview _ask = table.Ask;

    /// <summary>Masses without their ash cannot be used, and all else need not be asked: whether that is open, or is so.</summary>
    public bool AreFree()
    {
        AskedColumn[] free = [.. table.Chosen.Where(entry => IsMass(entry.Key.Field) && entry.Value.Sense.Has(Concept.AshFree))
            .Select(entry => entry.Value).Distinct()];
        if (free.Length > 0 && _ask.Choose(Interview.Meaning, "ash-free", [_ask.Option("no", "ash-free-no"),
            _ask.Option("yes", "ash-free-yes")], null, [.. free.SelectMany(column => column.Seen().Take(3))],
            string.Join(", ", free.Select(column => column.Name))) == "yes")
        {
            table.IsHopeless = "ash-free";
        }
        return table.IsHopeless is not null || _ask.IsOpen("ash-free");
    }

    public void Make()
    {
        foreach (LitterRole? role in table.Roles)
        {
            if (table.Of(ColumnChoice.Ash, role) is { IsNumbers: true } ash && (role is null || table.RoleOf(ash) == role))
                Ask(role, ash);
        }
    }

    // a mass of ash is a share only of what was burnt, and only the sender knows what that was
    private void Ask(LitterRole? role, AskedColumn ash)
    {
        if (ash.Sense.Unit == "percent")
        {
            MeasuredShare.Ask(table, role, ash, "ash", Field);
            return;
        }
        AskedColumn[] burnt = [.. table.Columns.Where(column => column != ash && column.IsNumbers && column.Sense.Has(Concept.Ash)
            && column.Sense.Unit is "g" or "mg" && table.RoleOf(column) == table.RoleOf(ash))];
        Choice[] masses = [.. burnt.Select(column => _ask.Option("of:" + column.Name, "ash-of", column.Name)),
            _ask.Option("mass", "ash-mass")];
        string? answer = MeasuredShare.Ask(table, role, ash, "ash", Field, masses, isMass: ash.Sense.Unit is "g" or "mg");
        if (answer is null or "percent" or "fraction" or "other")
            return;
        JsonObject source = MeasuredShare.Source(ash);
        source["form"] = "mass-share";
        source["unit"] = UnitOf(ash);
        if (Array.Find(burnt, column => answer == "of:" + column.Name) is { } whole)
        {
            JsonObject of = MeasuredShare.Source(whole);
            of["unit"] = UnitOf(whole);
            source["of"] = of;
        }
        table.Draft.BagsOf(role)[Field] = source;
    }

    private static string UnitOf(AskedColumn column) => column.Sense.Unit == "mg" ? "mg" : "g";

    private static bool IsMass(string field) =>
        field is ColumnChoice.Initial or ColumnChoice.Final or ColumnChoice.Loss or ColumnChoice.Remaining;
}
