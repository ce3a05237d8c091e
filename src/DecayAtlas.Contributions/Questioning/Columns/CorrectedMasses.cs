using System.Globalization;
using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Columns;

/// <summary>A second column of a mass that says in some rows what the first was corrected to: there it goes before it.</summary>
internal sealed class CorrectedMasses(AskedTable table)
{
    private sealed record Correction((string Field, LitterRole? Role) Key, AskedColumn Plain, AskedColumn Corrected, int[] Rows);

    private readonly Correction[] _all =
    [
        .. from entry in table.Chosen
           where entry.Key.Field is ColumnChoice.Initial or ColumnChoice.Final && table.CorrectedBy.ContainsKey(entry.Value.Ordinal)
           let corrected = table.Columns[table.CorrectedBy[entry.Value.Ordinal]]
           let form = NumberForm.Of(corrected)[0]
           select new Correction(entry.Key, entry.Value, corrected, [.. Enumerable.Range(0, table.Rows.Count)
               .Where(row => form.Read(corrected, row) is not null)]),
    ];

    /// <summary>The column that others correct, of two of which one says so and is filled in some rows alone.</summary>
    public static AskedColumn? Plain(AskedColumn[] columns, AskedTable table)
    {
        if (columns is not [{ } one, { } other] || one.Sense.Has(Concept.Corrected) == other.Sense.Has(Concept.Corrected))
            return null;
        (AskedColumn plain, AskedColumn corrected) = one.Sense.Has(Concept.Corrected) ? (other, one) : (one, other);
        if (!corrected.IsNumbers || corrected.Filled >= plain.Filled || corrected.Sense.Unit != plain.Sense.Unit)
            return null;
        table.CorrectedBy[plain.Ordinal] = corrected.Ordinal;
        return plain;
    }

    /// <summary>Puts the corrected masses where the others stand, for all that looks at them.</summary>
    public void Make()
    {
        foreach (Correction one in _all)
        {
            HashSet<int> rows = [.. one.Rows];
            table.Chosen[one.Key] = one.Plain.With([.. one.Plain.Cells.Select((cell, row) => rows.Contains(row) ? one.Corrected.Cells[row]
                : cell)]);
            table.ReadByRow.Add(one.Corrected.Ordinal);
            table.Ask.Tell("corrected-masses", one.Rows.Length, [.. one.Rows.Take(4).SelectMany(row => new[]
            {
                one.Plain.SeenAt(row), one.Corrected.SeenAt(row),
            })], one.Corrected.Name, one.Plain.Name);
        }
    }

    /// <summary>Writes them into the mapping row by row.</summary>
    public void Write()
    {
        foreach (Correction one in _all)
        {
            table.Chosen[one.Key] = one.Plain;
            if (table.Draft.BagsOf(one.Key.Role)[one.Key.Field == ColumnChoice.Initial ? "mass_initial_g" : "mass_final_g"]
                is not JsonObject source)
            {
                continue;
            }
            NumberForm form = NumberForm.Of(one.Corrected)[0];
            double scale = Units.InGrams(one.Corrected.Sense.Unit) ?? 1;
            foreach (int row in one.Rows)
            {
                // what was said of this cell while the corrected mass stood there
                string said = (string?)(source["rows"] as JsonObject)?[table.RowNames[row]]?[one.Corrected.TextAt(row)]
                    ?? (form.Read(one.Corrected, row)!.Value * scale).ToString("0.########", CultureInfo.InvariantCulture);
                MappingDraft.SetRow(source, table.RowNames[row], one.Plain.TextAt(row), said);
            }
        }
    }
}
