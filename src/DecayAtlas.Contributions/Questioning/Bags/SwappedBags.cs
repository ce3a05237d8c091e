using System.Globalization;
using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Bags;

/// <summary>The two bags of a burial that a remark says were taken for each other: each gets the masses of the other, both of them or the
/// last alone.</summary>
internal sealed class SwappedBags(AskedTable table, IWeighings masses)
{
    private sealed record Bag(LitterRole? Role, int Row);

    private readonly (string Column, string Field)[] _all =
        [(ColumnChoice.Initial, "mass_initial_g"), (ColumnChoice.Final, "mass_final_g")];

    /// <summary>Whether each of these rows has both of its bags, and those all their masses.</summary>
    public bool CanSwapBack(IReadOnlyList<int> rows) => Pairs(rows) is { } pairs
        && pairs.All(pair => _all.All(mass => Grams(pair.One, mass) is not null && Grams(pair.Other, mass) is not null));

    public void SwapBack(IReadOnlyList<int> rows, bool isLastAlone)
    {
        foreach ((Bag one, Bag other) in Pairs(rows) ?? [])
        {
            foreach ((string Column, string Field) mass in isLastAlone ? _all[1..] : _all)
            {
                (double? first, double? second) = (Grams(one, mass), Grams(other, mass));
                Set(one, mass, second!.Value);
                Set(other, mass, first!.Value);
            }
        }
    }

    // of a row of one bag the other is in the only other row of its hole
    private List<(Bag One, Bag Other)>? Pairs(IReadOnlyList<int> rows)
    {
        // what an empty bag weighed goes with the bag
        if (table.Roles.Any(role => table.Of(ColumnChoice.Tare, role) is not null || _all.Any(mass =>
            table.Draft.BagsOf(role)[mass.Field] is JsonObject source && source["less"] is not null)))
        {
            return null;
        }
        if (table.IsBurialRow)
            return [.. rows.Select(row => (new Bag(LitterRole.Fast, row), new Bag(LitterRole.Slow, row)))];
        string[]? keys = Holes();
        List<(Bag, Bag)> pairs = [];
        HashSet<string> seen = [];
        foreach (int row in rows)
        {
            if (keys is null)
                return null;
            int[] own = [.. Enumerable.Range(0, keys.Length).Where(other => keys[other] == keys[row])];
            if (own.Length != 2 || own.Select(of => table.RoleOfRow.ElementAtOrDefault(of)).OfType<LitterRole>().Distinct().Count() != 2)
                return null;
            if (seen.Add(keys[row]))
                pairs.Add((new Bag(null, own[0]), new Bag(null, own[1])));
        }
        return pairs;
    }

    private string[]? Holes()
    {
        if (table.Of(ColumnChoice.Burial) is not { } burial || burial.Filled < table.Rows.Count)
            return new PairedBags(table).ByNumber()?.Keys;
        AskedColumn[] names = [.. new[] { ColumnChoice.Site, ColumnChoice.Treatment, ColumnChoice.Plot, ColumnChoice.Replicate,
            ColumnChoice.Buried, ColumnChoice.Retrieved }.Select(field => table.Of(field)).OfType<AskedColumn>(), burial];
        return [.. Enumerable.Range(0, table.Rows.Count).Select(row => string.Join('\n', names.Select(name => name.TextAt(row))))];
    }

    // what was answered of a cell goes before what stands in it
    private double? Grams(Bag bag, (string Column, string Field) mass)
    {
        if (table.Of(mass.Column, bag.Role) is not { } column || !masses.IsRead(column)
            || table.Draft.BagsOf(bag.Role)[mass.Field] is not JsonObject source)
        {
            return null;
        }
        return (string?)(source["rows"] as JsonObject)?[table.RowNames[bag.Row]]?[column.TextAt(bag.Row)] is not { } said
            ? masses.Grams(column, bag.Row)
            : double.TryParse(said, NumberStyles.Float, CultureInfo.InvariantCulture, out double grams) ? grams : null;
    }

    private void Set(Bag bag, (string Column, string Field) mass, double grams) => MappingDraft.SetRow(
        (JsonObject)table.Draft.BagsOf(bag.Role)[mass.Field]!, table.RowNames[bag.Row], table.Of(mass.Column, bag.Role)!.TextAt(bag.Row),
        grams.ToString("0.######", CultureInfo.InvariantCulture));
}
