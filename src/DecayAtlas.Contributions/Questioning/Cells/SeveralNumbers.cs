using System.Globalization;
using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Cells;

/// <summary>Cells with several numbers, as 2.20 (2.02) or 2,02 statt 2,20: which one counts only the sender knows.</summary>
internal sealed class SeveralNumbers(AskedTable table)
{
    // so many cells written alike are a habit, asked once
    private const int FewestAlike = 4;

    private readonly Interview _ask = table.Ask;

    /// <summary>What each such row holds, in the unit of the field; null where it counts as empty or is not answered yet.</summary>
    /// <param name="scale">From the column's unit to that of the field.</param>
    public IReadOnlyDictionary<int, double?> Make(AskedColumn column, JsonObject source, NumberForm form, double scale, string unit)
    {
        Dictionary<int, double?> meant = [];
        foreach (int[] alike in Enumerable.Range(0, column.Cells.Count).Where(row => Of(column, row).Count > 0)
            .GroupBy(row => Shape(column.TextAt(row))).Select(own => own.ToArray()))
        {
            bool isHabit = alike.Length >= FewestAlike && alike.All(row => Of(column, row).Count == 2);
            foreach (int[] asked in isHabit ? [alike] : alike.Select(row => new[] { row }))
            {
                double[] first = [.. Of(column, asked[0]).Select(digits => Value(digits, form) * scale)];
                string about = isHabit ? Shape(column.TextAt(asked[0])) : table.RowNames[asked[0]];
                string? answer = _ask.Choose(Interview.Values, $"several:{about}:{column.Name}",
                    [.. first.Index().DistinctBy(number => number.Item)
                        .Select(number => new Choice(Invariant($"{number.Index + 1}"), Shown(number.Item, unit))),
                        _ask.Option("none", "several-none")], null,
                    [.. asked.Take(8).Select(column.SeenAt)], column.TextAt(asked[0]), column.Name, asked.Length);
                foreach (int row in asked)
                {
                    double? value = answer is null or "none" ? null
                        : Value(Of(column, row)[int.Parse(answer, CultureInfo.InvariantCulture) - 1], form) * scale;
                    meant[row] = value;
                    MappingDraft.SetRow(source, table.RowNames[row], column.TextAt(row),
                        value?.ToString("0.######", CultureInfo.InvariantCulture) ?? "");
                }
            }
        }
        return meant;
    }

    /// <summary>Whether a text of a column of masses is such a one, which is no word either.</summary>
    public static bool Are(string text) => WrittenNumber.SeveralIn(text).Count > 0;

    private static IReadOnlyList<string> Of(AskedColumn column, int row) => column.Cells[row].Value.Kind == SheetCellKind.Text
        ? WrittenNumber.SeveralIn(column.TextAt(row)) : [];

    // a number whose sign is not that of the column is what it can be alone
    private static double Value(string digits, NumberForm form) => double.Parse(
        WrittenNumber.Plain(digits, form.DecimalSign, form.Thousands) ?? WrittenNumber.Alone(digits)!, NumberStyles.Float,
        CultureInfo.InvariantCulture);

    private string Shown(double value, string unit) => $"{_ask.Words.Number(value, "0.####")} {unit}".Trim();

    private static string Shape(string text) => string.Concat(text.Select(c => char.IsAsciiDigit(c) ? '0' : c));
}
