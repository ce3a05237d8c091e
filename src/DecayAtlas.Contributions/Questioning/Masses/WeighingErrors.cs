using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Masses;

/// <summary>What stands with ± behind the mass of one bag.</summary>
internal static class WeighingErrors
{
    /// <summary>What stands behind ± is a standard uncertainty of its mass, beside that of the balance.</summary>
    public static void Write(AskedTable table, MassReading masses)
    {
        if (!table.AreOfOneBag)
            return;
        foreach (WeighedMass mass in WeighedMass.Of(table, masses))
        {
            if (table.Columns.ElementAtOrDefault(mass.Column.Ordinal + 1) is not { Header.Part: CellPart.Spread } error)
                continue;
            NumberForm form = NumberForm.Of(error)[0];
            double scale = Units.InGrams(error.Header.Unit ?? mass.Column.Sense.Unit) ?? 1;
            (string Text, string Grams)[] words = [.. Enumerable.Range(0, table.Rows.Count)
                .Select(row => (error.TextAt(row), form.Read(error, row) * scale))
                .Where(one => one.Item2 > 0).Select(one => (one.Item1, MassSource.Text(one.Item2!.Value))).Distinct()];
            if (words.Length == 0)
                continue;
            JsonObject source = MappingDraft.Column(error);
            source["form"] = "listed";
            source["words"] = MappingDraft.Words(words);
            MassSource.AddUncertainty(table.Draft.BagsOf(mass.Role), mass.UncertaintyField, source);
            table.ReadByRow.Add(error.Ordinal);
            table.Ask.Tell("plus-minus", error.Filled, error.Seen(), mass.Column.Name);
        }
    }
}
