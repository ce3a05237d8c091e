using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Masses;

/// <summary>Rows in which the masses hold the bag beside rows in which they do not. Where bags have an empty mass of their own, it is taken
/// off in the former, and all masses are those of the litter; else the mapping says of each row what it is.</summary>
internal sealed class MixedBags(AskedTable table, MassReading masses)
{
    private readonly Interview _ask = table.Ask;
    private readonly EmptyBags _empty = new(table);

    /// <summary>It was answered that all masses hold the bag.</summary>
    public bool AreAllWithBag { get; private set; }

    /// <summary>A column that says of each row whether the bag was weighed with it.</summary>
    /// <param name="said">Its words, each with gross or litter.</param>
    /// <returns>Whether nothing is left to say of the masses.</returns>
    public bool ByColumn(AskedColumn column, JsonObject said)
    {
        table.ReadByRow.Add(column.Ordinal);
        return said["words"] is JsonObject words && WithoutOwn((_, row) => (string?)words[column.TextAt(row)] == "gross");
    }

    /// <summary>An empty bag that is weighed in some rows only: these may be the ones whose masses hold it.</summary>
    /// <returns>Whether it is so, or is asked.</returns>
    public bool ByTare()
    {
        WeighedMass[] weighed = [.. WeighedMass.Of(table, masses).Where(mass => mass.Column.Sense.Basis is null)];
        WeighedMass[] first = [.. weighed.Where(mass => mass.IsFirst)];
        if (first.Length == 0 || !Array.TrueForAll(first, mass => table.Of(ColumnChoice.Tare, mass.Role) is not null))
            return false;
        (WeighedMass Mass, int Row, bool HasTare)[] bags = [.. first.SelectMany(mass => Enumerable.Range(0, table.Rows.Count)
            .Where(row => masses.Grams(mass.Column, row) is not null).Select(row => (mass, row, HasTare(mass.Role, row))))];
        int[] without = [.. bags.Where(bag => !bag.HasTare).Select(bag => bag.Row).Distinct()],
            with = [.. bags.Where(bag => bag.HasTare).Select(bag => bag.Row).Distinct()];
        // bags that weigh what they should with their empty one were all weighed with it
        if (without.Length == 0 || with.Length == 0 || AreAsWeighed(bags, _ => "gross"))
            return false;
        string? answer = _ask.Choose(Interview.Meaning, "basis-tare", [_ask.Option("rows", "basis-tare-rows"),
            _ask.Option("gross", "basis-tare-gross"), _ask.Option("litter", "basis-litter")],
            AreAsWeighed(bags, hasTare => hasTare ? "gross" : "litter") ? "rows" : null,
            [.. without.Take(6).Concat(with.Take(4)).Select(table.SeenRow)], with.Length, without.Length,
            table.Of(ColumnChoice.Tare, first[0].Role)!.Name);
        AreAllWithBag = answer == "gross";
        if (AreAllWithBag)
            return false;
        if (answer == "litter")
            table.Draft.Bags["mass_basis"] = MappingDraft.Value("litter");
        else if (!WithoutOwn(HasTare))
            ByRow(first);
        return true;
    }

    // by what bags of the campaign's lots weigh, all are what is said of them
    private bool AreAsWeighed((WeighedMass Mass, int Row, bool HasTare)[] bags, Func<bool, string> basisOf) => Array.TrueForAll(bags, bag =>
        (bag.Mass.Role ?? table.RoleOfRow.ElementAtOrDefault(bag.Row)) is { } role && CampaignLots.OfRow(table, bag.Row, role) is { } lot
        && CampaignLots.FitsOther(lot, masses.Grams(bag.Mass.Column, bag.Row)!.Value, basisOf(bag.HasTare)) == false);

    private bool HasTare(LitterRole? role, int row) => _empty.Grams(table.Of(ColumnChoice.Tare, role)!, row) is not null;

    // false where not each mass has an empty bag of its own, beside that of the lot
    private bool WithoutOwn(Func<LitterRole?, int, bool> isGross)
    {
        (WeighedMass Mass, AskedColumn? Own)[] weighed = [.. WeighedMass.Of(table, masses).Select(mass => (mass, _empty.OwnOf(mass)))];
        if (weighed.Length == 0 || Array.Exists(weighed, entry => entry.Own is null))
            return false;
        foreach ((WeighedMass mass, AskedColumn? own) in weighed)
        {
            JsonObject less = _empty.OwnSource(own!, mass.Role);
            for (int row = 0; row < table.Rows.Count; row++)
            {
                if (!isGross(mass.Role, row))
                    MappingDraft.SetRow(less, table.RowNames[row], own!.TextAt(row), "0");
            }
            mass.Source["less"] = less;
            MassSource.AddUncertainty(table.Draft.BagsOf(mass.Role), mass.UncertaintyField,
                MappingDraft.Value(MassSource.Text(_empty.UncertaintyOfReading())));
            _ask.Tell("tare-own", own!.Filled, own.Seen(), own.Name, mass.Column.Name);
        }
        table.Draft.Bags["mass_basis"] = MappingDraft.Value("litter");
        return true;
    }

    private void ByRow(WeighedMass[] first)
    {
        foreach (WeighedMass mass in first)
        {
            AskedColumn tare = table.Of(ColumnChoice.Tare, mass.Role)!;
            JsonObject source = MappingDraft.Column(tare);
            source["form"] = "listed";
            for (int row = 0; row < table.Rows.Count; row++)
            {
                if (!HasTare(mass.Role, row))
                    MappingDraft.SetRow(source, table.RowNames[row], tare.TextAt(row), "litter");
            }
            source["or"] = new JsonArray(MappingDraft.Value("gross"));
            table.Draft.BagsOf(mass.Role)["mass_basis"] = source;
        }
    }
}
