using System.Text.RegularExpressions;

namespace DecayAtlas.Contributions.Wide;

/// <summary>The order of day, month and year in a column.</summary>
internal enum DateOrder
{
    /// <summary>Nothing was stated: only dates with the year first are understood.</summary>
    Unstated,
    Iso,
    Dmy,
    Mdy,
    Serial1900,
    Serial1904,
}

/// <summary>Writes a date as YYYY-MM-DD in the order that was stated. An order that was not stated is never guessed, not even where only
/// one is possible.</summary>
internal static partial class StatedDate
{
    public static (string Text, Finding? Fault) Read(FieldSchema field, string text, DateOrder order, int? year = null, int? century = null)
    {
        if (MonthNames.Read(text) is { } read && (read.IsNamed || read.Year is null || (read.IsShortYear && century is not null))
            && (read.Year is null ? year : read.IsShortYear ? century + read.Year : read.Year) is { } fullYear
            && (read.IsNamed || order is DateOrder.Dmy or DateOrder.Mdy))
        {
            bool isMonthFirst = !read.IsNamed && order == DateOrder.Mdy;
            (int dayOfMonth, int month) = isMonthFirst ? (read.Second, read.First) : (read.First, read.Second);
            return (Invariant($"{fullYear:0000}-{month:00}-{dayOfMonth:00}"), null);
        }
        if (order is DateOrder.Serial1900 or DateOrder.Serial1904)
        {
            return SheetValue.DayOf(text, order == DateOrder.Serial1904) is { } day ? (day, null)
                : Fault(field, text, "a day number of a spreadsheet, as the mapping states",
                    "correct the number, or state another date_order");
        }
        Match match = Form().Match(text);
        if (!match.Success)
            return Fault(field, text, "a date in numbers: day, month and a year of four digits", "write it as 2024-05-14");
        string first = match.Groups["first"].Value, second = match.Groups["second"].Value, third = match.Groups["third"].Value;
        if (first.Length == 4 && third.Length <= 2)
            return (Written(first, second, third), null);
        if (first.Length == 4)
            return Fault(field, text, "a date in numbers", "write it as 2024-05-14");
        if (third.Length != 4)
            return Fault(field, text, "a year of four digits", "write the year out; two digits do not say which century");
        const string stateOrder = "state date_order: dmy (day first) or date_order: mdy (month first) in the mapping";
        return order switch
        {
            DateOrder.Dmy => (Written(third, second, first), null),
            DateOrder.Mdy => (Written(third, first, second), null),
            _ => Fault(field, text, "a date with the year first, or a stated order", stateOrder, FindingCode.DateOrderUnstated),
        };
    }

    private static string Written(string year, string month, string day) => $"{year}-{month.PadLeft(2, '0')}-{day.PadLeft(2, '0')}";

    private static (string, Finding?) Fault(FieldSchema field, string text, string expected, string mend,
        string code = FindingCode.NotADate) => ("", field.Fault(code, FindingText.Quote(text), expected, mend));

    /// <summary>Three numbers with one kind of separator, and a time of day that is not used.</summary>
    [GeneratedRegex(
        """\A(?<first>\d{1,4})(-(?<second>\d{1,2})-|/(?<second>\d{1,2})/|\.(?<second>\d{1,2})\.|"""
        + """\. (?<second>\d{1,2})\. | (?<second>\d{1,2}) )(?<third>\d{1,4})([T ]\d{1,2}:\d{2}(:\d{2}(\.\d+)?)?(Z|[+-]\d{2}:?\d{2})?)?\z""",
        RegexOptions.CultureInvariant | RegexOptions.NonBacktracking | RegexOptions.ExplicitCapture)]
    private static partial Regex Form();
}
