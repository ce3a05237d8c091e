using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Masses;

/// <summary>One of the two masses of a bag, where it is read as a mass and not as a share.</summary>
/// <param name="Role">In a table with a burial a row; null elsewhere.</param>
/// <param name="Source">Where the mapping takes it from.</param>
internal sealed record WeighedMass(LitterRole? Role, bool IsFirst, AskedColumn Column, JsonObject Source)
{
    /// <summary>The field of its standard uncertainty beside balance and tare.</summary>
    public string UncertaintyField => IsFirst ? "mass_initial_sd_g" : "mass_final_sd_g";

    /// <summary>First masses before last ones, the fast litter before the slow.</summary>
    public static IEnumerable<WeighedMass> Of(AskedTable table, MassReading masses) =>
        from role in table.Roles
        from mass in new[] { Of(table, masses, role, isFirst: true), Of(table, masses, role, isFirst: false) }
        where mass is not null
        select mass;

    private static WeighedMass? Of(AskedTable table, MassReading masses, LitterRole? role, bool isFirst) =>
        table.Of(isFirst ? ColumnChoice.Initial : ColumnChoice.Final, role) is { } column && masses.IsRead(column)
            ? new WeighedMass(role, isFirst, column,
                (JsonObject)table.Draft.BagsOf(role)[isFirst ? "mass_initial_g" : "mass_final_g"]!)
            : null;
}
