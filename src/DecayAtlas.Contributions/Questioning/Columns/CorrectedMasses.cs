using System.Globalization;
using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Columns;

/// <summary>A second column of a mass that says in some rows what the first was corrected to: there it goes before it. And one of what was
/// weighed again, where the sender takes the mean of both.</summary>
internal sealed class CorrectedMasses(AskedTable table)
{
    private sealed record Correction((string Field, LitterRole? Role) Key, AskedColumn Plain, AskedColumn Corrected, int[] Rows)
    {
        /// <summary>The column of the second weighing, where it is their mean that counts.</summary>
        public AskedColumn? Again { get; init; }
    }

    private readonly Correction[] _all =
    [
        .. from entry in table.Chosen
           where entry.Key.Field is ColumnChoice.Initial or ColumnChoice.Final && table.CorrectedBy.ContainsKey(entry.Value.Ordinal)
           let corrected = table.Columns[table.CorrectedBy[entry.Value.Ordinal]]
           let form = NumberForm.Of(corrected)[0]
           select new Correction(entry.Key, entry.Value, corrected, [.. Enumerable.Range(0, table.Rows.Count)
               .Where(row => form.Read(corrected, row) is not null)]),
        .. from entry in table.Chosen
           where entry.Key.Field is ColumnChoice.Initial or ColumnChoice.Final && table.MeanWith.ContainsKey(entry.Value.Ordinal)
           select MeanOf(entry.Key, entry.Value, table.Columns[table.MeanWith[entry.Value.Ordinal]]),
    ];

    // where one of the two was not weighed the other stands alone
    private static Correction MeanOf((string Field, LitterRole? Role) key, AskedColumn one, AskedColumn other)
    {
        NumberForm form = NumberForm.Of(one)[0], again = NumberForm.Of(other)[0];
        int[] rows = [.. Enumerable.Range(0, one.Cells.Count).Where(row => again.Read(other, row) is not null)];
        TidyCell[] cells = [.. one.Cells];
        foreach (int row in rows)
        {
            double second = again.Read(other, row)!.Value, mean = form.Read(one, row) is { } first ? (first + second) / 2 : second;
            cells[row] = cells[row] with
            {
                Value = new SheetCell(SheetCellKind.Number, Math.Round(mean, 8).ToString(CultureInfo.InvariantCulture)),
            };
        }
        return new Correction(key, one, one.With(cells), rows) { Again = other };
    }

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
            AskedColumn second = one.Again ?? one.Corrected;
            table.ReadByRow.Add(second.Ordinal);
            table.Ask.Tell(one.Again is null ? "corrected-masses" : "mean-of-two", one.Rows.Length, [.. one.Rows.Take(4)
                .SelectMany(row => new[] { one.Plain.SeenAt(row), second.SeenAt(row) })], second.Name, one.Plain.Name);
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
