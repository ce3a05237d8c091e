using System.Globalization;
using System.Text.RegularExpressions;

namespace DecayAtlas.Contributions.Vocabularies;

/// <summary>Hours, weeks, months and years in names of columns, in four languages: none is a day, though numbers under them look like
/// days.</summary>
internal static partial class TimeUnits
{
    private const double DaysOfYear = 365.25;

    /// <summary>Of a month, where no calendar says which one it is.</summary>
    public const double DaysOfMonth = DaysOfYear / 12;

    private const string Words =
        "weeks?|wks?|wochen?|semanas?|semaines?|months?|monate?n?|mes|meses|mois|years?|yrs?|jahre?n?|anos?|ans?|annees?";

    /// <summary>How many days are what a duration is counted in; missing where that is days, or not said.</summary>
    public static double? DaysOf(string header) =>
        Counted().Match(Folded(header)) is { Success: true } found ? Days(found.Groups[1].Value) : null;

    /// <summary>How many days one of a duration in hours or weeks is, which are as long in every month; missing for any other.</summary>
    public static double? ExactDaysOf(string header) => Hours().IsMatch(Folded(header)) ? 1 / 24d : DaysOf(header) is 7 ? 7 : null;

    /// <summary>How many months one of a duration in months or years is; missing for any other.</summary>
    public static int? MonthsOf(string text) => Counted().Match(Folded(text)) is { Success: true } found
        && Days(found.Groups[1].Value) is var days and not 7 ? (int)Math.Round(days / DaysOfMonth) : null;

    /// <summary>The days of a duration that is said in several units of which each is as long everywhere: 12 weeks and 3 days; missing
    /// for any other.</summary>
    public static double? DaysInWords(string text)
    {
        if (text.Length > 60 || !Several().IsMatch(Folded(text)))
            return null;
        double days = 0;
        foreach (Match part in Part().Matches(Folded(text)))
        {
            string unit = $" {part.Groups[2].Value} ";
            double? each = AreDays(unit) ? 1 : ExactDaysOf(unit);
            if (each is null || !double.TryParse(part.Groups[1].Value.Replace(',', '.'), NumberStyles.AllowDecimalPoint,
                CultureInfo.InvariantCulture, out double count))
            {
                return null;
            }
            days += count * each.Value;
        }
        return days;
    }

    /// <summary>Whether it says days itself.</summary>
    public static bool AreDays(string text) => InDays().IsMatch(Folded(text));

    /// <summary>Whether a name says nothing but what is counted, in the plural: the third month is no duration.</summary>
    public static bool IsCountAlone(string header) => Alone().IsMatch(Folded(header));

    /// <summary>How many days lie in the time that a rate is of, as per year or yr⁻¹; missing where that is a day, or not said.</summary>
    public static double? DaysPer(string header) => Rated().Match(Folded(header)) is { Success: true } found
        ? Days(found.Groups[1].Success ? found.Groups[1].Value : found.Groups[2].Value) : null;

    private static double Days(string word) => word[0] switch
    {
        'w' or 's' => 7,
        'm' => DaysOfMonth,
        _ => DaysOfYear,
    };

    private static string Folded(string header) =>
        $" {Identifier.Folded(header).Replace("⁻¹", "-1", StringComparison.Ordinal).Replace('−', '-')} "
            .Replace("^", "", StringComparison.Ordinal);

    [GeneratedRegex(@"([0-9]+(?:[.,][0-9]+)?) ?([a-z]+)", RegexOptions.NonBacktracking)]
    private static partial Regex Part();

    [GeneratedRegex(@"\A *[0-9]+(?:[.,][0-9]+)? ?[a-z]+\.?(?: *(?:,|\+|and|und|y|et)? *[0-9]+(?:[.,][0-9]+)? ?[a-z]+\.?)+ *\z",
        RegexOptions.NonBacktracking)]
    private static partial Regex Several();

    [GeneratedRegex("[^a-z](h|hrs?|hours?|std|stunden?|heures?|horas?)[^a-z-]", RegexOptions.NonBacktracking)]
    private static partial Regex Hours();

    [GeneratedRegex("[^a-z](" + Words + ")[^a-z-]", RegexOptions.NonBacktracking)]
    private static partial Regex Counted();

    [GeneratedRegex("[^a-z](d|days?|tage?n?|jours?|dias?)[^a-z-]", RegexOptions.NonBacktracking)]
    private static partial Regex InDays();

    [GeneratedRegex(@"\A (hours|stunden|horas|heures|(week|semaine|semana|month|year|ano|annee|an)(s|\(s\))|(woche)(n|\(n\))|"
        + @"(monat|jahr)(e|\(e\))|mes(es|\(es\))|wks|yrs)"
        + @"( (in|im|in der|in the|en|en el|en la|dans le|sous|bajo|under) ?(soil|ground|earth|field|boden|erde|suelo|tierra|sol|terre)|"
        + @" buried| underground| vergraben| enterrada| enterradas| enfoui| enfouis)? \z", RegexOptions.NonBacktracking)]
    private static partial Regex Alone();

    [GeneratedRegex("(?:(?:[^a-z](?:per|pro|par|por|al|je)|/) *(" + Words + "|y|a)[^a-z])|(?:[^a-z](" + Words + "|y|a) ?-1[^0-9])",
        RegexOptions.NonBacktracking)]
    private static partial Regex Rated();
}
