using System.Globalization;

namespace DecayAtlas.Contributions.Kits;

/// <summary>Reads what somebody typed as text where a number or a day belongs, as the language of the kit writes it. What allows one
/// reading alone is read; what allows two is not guessed.</summary>
/// <param name="language">BCP 47 code; empty where the kit does not say it.</param>
internal sealed class TypedText(string language)
{
    // languages of kits whose numbers have a decimal comma, and whose days begin with the day
    private static readonly string[] WithComma = ["de", "es", "fr"];

    private bool HasComma => WithComma.Contains(language);

    /// <param name="most">No number of this cell is larger.</param>
    /// <returns>The text as a data package has it, and whether that is another than what was typed.</returns>
    public (string Text, bool IsOther, Finding? Fault) Read(FieldSchema field, string text, double? most = null)
    {
        (string? read, Finding? fault) = field.Type switch
        {
            FieldType.Date => Day(field, text),
            FieldType.Number or FieldType.WholeNumber => Number(field, text, most),
            _ => (null, null),
        };
        return (read ?? text, read is not null && read != text, fault);
    }

    private (string?, Finding?) Number(FieldSchema field, string text, double? most)
    {
        if (TypedCoordinate.Is(field, text))
            return TypedCoordinate.Read(field, text, language);
        if (field.IsCoordinate && Degrees.LooksLike(text))
            return Degrees.Read(field, text) is ({ Length: > 0 } degrees, null) ? (degrees, null) : (null, null);
        if (WrittenNumber.Of(WithoutUnit(field, text)) is not { Beside.Length: 0 } written
            || (written.Unit is { } unit && unit != field.Unit))
        {
            return (null, null);
        }
        string? comma = Possible(WrittenNumber.Plain(written.Digits, ',', SignOf(written.Digits, '.'))),
            point = Possible(WrittenNumber.Plain(written.Digits, '.', SignOf(written.Digits, ',')));
        if (comma is null || point is null || comma == point)
            return (comma ?? point, null);
        // both can be: 1,994 in a kit whose language has a decimal comma is 1.994, in another it may be thousands
        char own = HasComma ? ',' : '.';
        if (language.Length > 0 && written.Digits.Contains(own, StringComparison.Ordinal))
            return (HasComma ? comma : point, null);
        return (null, Unsure(field, text, $"{comma} or {point}", "type it again as a number, with the decimal sign of your spreadsheet"));

        string? Possible(string? plain) => plain is not null
            && double.Parse(plain, NumberStyles.Float, CultureInfo.InvariantCulture) is var number
            && !(number < field.Minimum) && !(number > field.Maximum) && !(number > most) ? plain : null;
    }

    // a unit that says what the column says is no remark
    private static string WithoutUnit(FieldSchema field, string text)
    {
        string number = text.Trim().TrimEnd('.');
        int end = number.Length;
        while (end > 0 && char.IsLetter(number[end - 1]))
            end--;
        return end > 0 && field.Unit is { } unit && UnitWords.TryGetValue(unit, out string[]? words)
            && words.Contains(number[end..], StringComparer.OrdinalIgnoreCase) ? number[..end].TrimEnd() : text;
    }

    private static readonly Dictionary<string, string[]> UnitWords = new()
    {
        ["m"] = ["m", "mt", "mts", "meter", "metern", "metre", "metres", "meters", "mètre", "mètres", "metro", "metros"],
        ["cm"] = ["cm", "cms", "centimeter", "zentimeter", "centimetres", "centimètres", "centímetros"],
        ["g"] = ["g", "gr", "gramm", "gram", "grams", "gramos", "grammes"],
    };

    // thousands in one of the signs that languages have for them
    private static char SignOf(string digits, char other) => digits.Contains(other, StringComparison.Ordinal) ? other : '\'';

    private (string?, Finding?) Day(FieldSchema field, string text)
    {
        if (MonthNames.Read(text) is not { Year: { } year } day)
            return (null, null);
        // a kit is of no other century
        int fullYear = day.IsShortYear ? 2000 + year : year;
        (int first, int second) = (day.First, day.Second);
        bool isDayFirst = day.IsNamed || day.IsYearFirst || second <= 12 && (first > 12 || first == second || HasComma
            || text.Contains('.', StringComparison.Ordinal));
        bool isMonthFirst = !isDayFirst && second > 12 && first <= 12;
        if (isDayFirst || isMonthFirst)
        {
            (int dayOfMonth, int month) = isDayFirst ? (first, second) : (second, first);
            return (Invariant($"{fullYear:0000}-{month:00}-{dayOfMonth:00}"), null);
        }
        return first > 12 ? (null, null)
            : (null, Unsure(field, text, Invariant($"{fullYear:0000}-{second:00}-{first:00} or {fullYear:0000}-{first:00}-{second:00}"),
                "type it again as year-month-day, as 2027-04-14"));
    }

    private static Finding Unsure(FieldSchema field, string text, string either, string mend) =>
        field.Fault(FindingCode.KitUnsure, $"{FindingText.Quote(text)}, which may be {either}",
            field.Type == FieldType.Date ? "a day that can be read in one way only" : "a number that can be read in one way only", mend);
}
