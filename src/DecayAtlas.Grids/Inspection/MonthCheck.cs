using System.Globalization;
using System.Text.RegularExpressions;

namespace DecayAtlas.Grids.Inspection;

/// <summary>Covariates that are months of one thing, by their names or by the step they select, must be twelve.</summary>
internal static partial class MonthCheck
{
    private static readonly string[] Months = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];

    public static IEnumerable<CatalogueFinding> Of(IReadOnlyList<CatalogueEntry> entries)
    {
        IEnumerable<(CatalogueEntry Entry, string Of, int Month)> months = entries.Where(e => e.Made is OneLayer)
            .Select(e => (e, MonthOf(e))).Where(x => x.Item2 is not null).Select(x => (x.e, x.Item2!.Value.Of, x.Item2!.Value.Month));
        foreach (IGrouping<string, (CatalogueEntry Entry, string Of, int Month)> group in months.GroupBy(m => m.Of))
        {
            int[] there = [.. group.Select(m => m.Month).Distinct().Order()];
            bool climate = group.All(m =>
                Quantity.Of(m.Entry.Name, m.Entry.Title, m.Entry.Unit) is QuantityKind.Temperature or QuantityKind.Precipitation);
            if (there.Length is > 1 and < 12 && there[^1] <= 12 && climate)
            {
                string absent = string.Join(", ", Enumerable.Range(1, 12).Except(there));
                yield return new CatalogueFinding("months-incomplete", group.First().Entry.Name,
                    $"it and {there.Length - 1} more are months of {group.Key}, and month{(there.Length == 11 ? "" : "s")} {absent} "
                    + $"{(there.Length == 11 ? "is" : "are")} not there; add the rest, or name them so that they do not look like months.");
            }
        }
    }

    private static (string Of, int Month)? MonthOf(CatalogueEntry entry)
    {
        foreach (string step in entry.Select?.Values ?? [])
        {
            if (step.StartsWith("month ", StringComparison.Ordinal)
                && int.TryParse(step.AsSpan(6).Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out int selected))
            {
                return ($"{entry.Variable ?? "the variable"} in {Path.GetFileName(entry.Path)}", selected);
            }
        }

        Match name = MonthName().Match(entry.Name);
        string month = name.Groups["month"].Value;
        return !name.Success ? null
            : (name.Groups["of"].Value, int.TryParse(month, NumberStyles.None, CultureInfo.InvariantCulture, out int number) ? number
                : Array.FindIndex(Months, m => month.StartsWith(m, StringComparison.Ordinal)) + 1);
    }

    [GeneratedRegex(@"^(?<of>.+?)_(m?(?<month>\d{1,2})|(?<month>(jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*))$",
        RegexOptions.NonBacktracking)]
    private static partial Regex MonthName();
}
