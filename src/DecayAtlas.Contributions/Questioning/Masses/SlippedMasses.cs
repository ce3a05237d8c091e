using System.Globalization;
using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Masses;

/// <summary>A bag that gains weight beside many that do not: a comma that slipped, or two numbers exchanged.</summary>
internal sealed class SlippedMasses(AskedTable table, MassReading masses)
{
    private const double MostRemaining = 1.1;

    private readonly Interview _ask = table.Ask;

    public void Make()
    {
        foreach (LitterRole? role in table.Roles)
        {
            if (table.Of(ColumnChoice.Initial, role) is not { } first || table.Of(ColumnChoice.Final, role) is not { } last
                || !masses.IsRead(last))
            {
                continue;
            }

            (int Row, double First, double Last)[] both = [.. Enumerable.Range(0, table.Rows.Count)
                .Select(row => (row, masses.Grams(first, row), masses.Grams(last, row))).Where(row => row is (_, { }, { }))
                    .Select(row => (row.row, row.Item2!.Value, row.Item3!.Value))];
            (int Row, double First, double Last)[] odd = [.. both.Where(row => row.Last > MostRemaining * row.First)];
            if (odd.Length == 0 || odd.Length > 3 || odd.Length * 5 > both.Length)
                continue;
            foreach ((int row, double before, double after) in odd)
            {
                string? shifted = new[] { 10.0, 100, 1000 }.Select(by => after / by).Where(mass => mass > 0.1 * before && mass <= before)
                    .Select(mass => mass.ToString("0.####", CultureInfo.InvariantCulture)).FirstOrDefault();
                string? answer = _ask.Enter(Interview.Values, Invariant($"odd-mass:{table.RowNames[row]}:{last.Name}"),
                    QuestionKind.Number,
                    text => double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double mass)
                        && mass is >= 0 and <= 1000, shifted,
                    [first.SeenAt(row), last.SeenAt(row)], first.Spoken(row, _ask.Words), last.Spoken(row, _ask.Words), last.Name);
                if (answer is not null)
                {
                    MappingDraft.SetRow((JsonObject)table.Draft.BagsOf(role)["mass_final_g"]!, table.RowNames[row], last.TextAt(row),
                        answer);
                }
            }
        }
    }
}
