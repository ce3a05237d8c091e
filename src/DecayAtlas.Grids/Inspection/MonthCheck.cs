using System.Globalization;
using System.Text.RegularExpressions;

namespace DecayAtlas.Grids.Inspection;

/// <summary>Covariates that are months of one thing, by their names or by the step they select, must be twelve.</summary>
internal static partial class MonthCheck
{
    private static readonly string[] Months = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];

    public static IEnumerable<CatalogueFinding> Of(IReadOnlyList<CatalogueEntry> entries)
    {
        IEnumerable<IGrouping<string, (CatalogueEntry Entry, (string Of, int Month)? Month)>> months =
            entries.Where(e => e.Made is OneLayer).Select(e => (Entry: e, Month: MonthOf(e))).Where(x => x.Month is not null)
                .GroupBy(x => x.Month!.Value.Of);
        foreach (IGrouping<string, (CatalogueEntry Entry, (string Of, int Month)? Month)> group in months)
        {
            int[] there = [.. group.Select(x => x.Month!.Value.Month).Distinct().Order()];
            bool climate =
                group.All(x =>
                    Quantity.Of(x.Entry.Name, x.Entry.Title, x.Entry.Unit) is QuantityKind.Temperature or QuantityKind.Precipitation);
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
        return !name.Success ? null
            : int.TryParse(name.Groups["month"].Value, NumberStyles.None, CultureInfo.InvariantCulture, out int number)
                ? (name.Groups["of"].Value, number)
            : (name.Groups["of"].Value, Array.FindIndex(Months, m => name.Groups["month"].Value.StartsWith(m, StringComparison.Ordinal))
                + 1);
    }

    [GeneratedRegex(@"^(?<of>.+?)_(m?(?<month>\d{1,2})|(?<month>(jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*))$",
        RegexOptions.NonBacktracking)]
    private static partial Regex MonthName();
}
