using System.Globalization;

namespace DecayAtlas.Contributions.Proposal;

/// <param name="Distinct">Up to <see cref="MostDistinct"/> different texts, in the order of their first appearance.</param>
/// <param name="DateOrder">iso, dmy or mdy where the values allow no other; null where they do not decide.</param>
internal sealed record ColumnEvidence(
    int Filled, IReadOnlyList<string> Distinct, bool HasDecimalComma, bool HasDecimalPoint, bool LooksLikeDegrees, bool LooksLikeDates,
    string? DateOrder, string DateReason, double? Lowest, double? Highest)
{
    public const int MostDistinct = 40;

    public static ColumnEvidence Of(IReadOnlyList<SheetRow> rows, int column, bool isDecimalComma)
    {
        List<string> distinct = [];
        HashSet<string> seen = [];
        int filled = 0, dates = 0, typedDates = 0, firstOver12 = 0, secondOver12 = 0, yearFirst = 0;
        bool hasComma = false, hasPoint = false, isDegrees = false;
        string? telling = null;
        double? lowest = null, highest = null;
        foreach (SheetRow row in rows)
        {
            SheetCell cell = row[column];
            if (cell.Text.Length > FieldSchema.LongestOfAll)
            {
                filled++;   // reading it will tell that it is too long
                continue;
            }
            string text = cell.Text.Trim();
            if (text.Length == 0)
                continue;
            filled++;
            if (seen.Count < MostDistinct && seen.Add(text))
                distinct.Add(text);
            if (cell.Kind == SheetCellKind.Date)
            {
                typedDates++;
                continue;
            }
            isDegrees |= Degrees.LooksLike(text.Replace(',', '.'));
            if (Parts(text) is (int first, int second, bool isYearFirst))
            {
                dates++;
                yearFirst += isYearFirst ? 1 : 0;
                firstOver12 += !isYearFirst && first > 12 ? 1 : 0;
                secondOver12 += !isYearFirst && second > 12 ? 1 : 0;
                telling = !isYearFirst && (first > 12 || second > 12) ? telling ?? text : telling;
                continue;
            }
            hasComma |= IsNumber(text.Replace(',', '.')) && text.Contains(',', StringComparison.Ordinal);
            hasPoint |= cell.Kind == SheetCellKind.Text && IsNumber(text) && text.Contains('.', StringComparison.Ordinal);
            if (double.TryParse(isDecimalComma ? text.Replace(',', '.') : text, NumberStyles.Float, CultureInfo.InvariantCulture,
                out double number))
            {
                lowest = Math.Min(lowest ?? number, number);
                highest = Math.Max(highest ?? number, number);
            }
        }
        (string? order, string reason) = typedDates == filled && filled > 0 ? ("iso", "the cells are dates")
            : yearFirst == dates && dates > 0 ? ("iso", "every date has its year first")
            : firstOver12 > 0 && secondOver12 == 0 && yearFirst == 0 ? ("dmy", $"only the day can be first in {telling}")
            : secondOver12 > 0 && firstOver12 == 0 && yearFirst == 0 ? ("mdy", $"only the month can be first in {telling}")
            : ((string?)null, "dmy (day first) or mdy (month first)? the values do not decide it");
        return new ColumnEvidence(filled, distinct, hasComma, hasPoint, isDegrees, dates + typedDates > 0 && dates + typedDates == filled,
            order, reason, lowest, highest);
    }

    private static bool IsNumber(string text) => double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out _);

    private static (int First, int Second, bool IsYearFirst)? Parts(string text)
    {
        string day = text.Split(' ', 'T')[0];
        string[] parts = day.Split('-', '/', '.');
        return parts.Length == 3 && parts.All(part => part.Length is > 0 and <= 4 && part.All(char.IsAsciiDigit))
            && (parts[0].Length == 4 || parts[2].Length is 2 or 4)
            ? (int.Parse(parts[0], CultureInfo.InvariantCulture), int.Parse(parts[1], CultureInfo.InvariantCulture), parts[0].Length == 4)
            : null;
    }
}
