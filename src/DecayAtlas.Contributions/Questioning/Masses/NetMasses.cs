using System.Globalization;
using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Masses;

/// <summary>A mass without its bag that is not the one with it less the empty bag: typed over a formula, or weighed anew.</summary>
internal sealed class NetMasses(AskedTable table, MassReading masses)
{
    /// <summary>What rounding to a hundredth of a gram can make of a difference (g).</summary>
    private const double MostRounded = 0.011;

    private readonly Interview _ask = table.Ask;

    public void Make()
    {
        foreach ((string field, string target, Concept when) in new[]
        {
            (ColumnChoice.Initial, "mass_initial_g", Concept.First), (ColumnChoice.Final, "mass_final_g", Concept.Last),
        })
        {
            if (table.IsBurialRow || table.Of(field) is not { Sense.Basis: "litter" } net
                || Sole(column => column.Sense.Basis == "gross" && column.Sense.Has(when)) is not { } gross
                || (Sole(column => column.Sense.Has(Concept.Tare) && column.Sense.Has(when))
                    ?? table.Of(ColumnChoice.Tare)) is not { } tare)
            {
                continue;
            }
            Func<int, double?> grossOf = In(gross), tareOf = In(tare);
            for (int row = 0; row < table.Rows.Count; row++)
            {
                if (masses.Grams(net, row) is not { } written || grossOf(row) - tareOf(row) is not { } computed
                    || Math.Abs(computed - written) <= MostRounded)
                {
                    continue;
                }
                string made = computed.ToString("0.####", CultureInfo.InvariantCulture);
                string? answer = _ask.Choose(Interview.Values, $"net-odd:{table.RowNames[row]}:{net.Name}",
                    [new Choice("computed", $"{_ask.Words.Written(made)} g"),
                        new Choice("written", $"{_ask.Words.Number(written, "0.####")} g")], null,
                    [gross.SeenAt(row), tare.SeenAt(row), net.SeenAt(row)], gross.Name, tare.Name, net.Name, _ask.Words.Written(made));
                if (answer == "computed")
                    MappingDraft.SetRow((JsonObject)table.Draft.Bags[target]!, table.RowNames[row], net.TextAt(row), made);
            }
        }

        AskedColumn? Sole(Func<AskedColumn, bool> which) => table.Columns.Where(which).ToArray() is [{ } only] ? only : null;

        static Func<int, double?> In(AskedColumn column)
        {
            NumberForm form = NumberForm.Of(column)[0];
            return row => MassReading.GramsIn(column, row, form, column.Sense.Unit ?? "g");
        }
    }
}
