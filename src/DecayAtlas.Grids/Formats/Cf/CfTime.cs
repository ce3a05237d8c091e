using System.Globalization;
using System.Text.RegularExpressions;

namespace DecayAtlas.Grids.Formats.Cf;

/// <summary>A day in one of the calendars of climate models; the 30th of February is one in the calendar of 360 days.</summary>
internal readonly record struct CalendarDay(int Year, int Month, int Day)
{
    public override string ToString() => $"{Year:D4}-{Month:D2}-{Day:D2}";
}

/// <summary>Turns the numbers of a time coordinate into days (CF conventions 1.11, section 4.4).</summary>
internal sealed partial class CfTime(string path, string calendar, double unitDays, bool inMonths, CalendarDay since, double fraction)
{
    private static readonly int[] DaysBefore = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365];

    private readonly double _reference = DayNumber(calendar, since) + fraction;

    public static bool IsTime(string? units) => units?.Contains(" since ", StringComparison.OrdinalIgnoreCase) == true;

    /// <exception cref="GridException">The unit or the calendar is not known here.</exception>
    public static CfTime Read(string path, string units, string? calendar)
    {
        string plain = (calendar ?? "standard").Trim().ToLowerInvariant() switch
        {
            "standard" or "gregorian" or "" => "standard",
            "proleptic_gregorian" => "proleptic_gregorian",
            "noleap" or "365_day" => "noleap",
            "all_leap" or "366_day" => "all_leap",
            "360_day" => "360_day",
            "julian" => "julian",
            string other => throw new GridException(
                $"{path} counts time in the calendar \"{other}\", and standard, proleptic_gregorian, noleap, all_leap, 360_day or "
                + "julian was expected."),
        };
        Match match = Pattern().Match(units.Trim());
        if (!match.Success)
            throw new GridException($"{path} counts time in \"{units}\", and a unit such as \"days since 1950-01-01\" was expected.");

        (double days, bool months) = match.Groups["unit"].Value.ToLowerInvariant().TrimEnd('s') switch
        {
            "day" or "d" => (1.0, false),
            "hour" or "hr" or "h" => (1 / 24.0, false),
            "minute" or "min" => (1 / 1440.0, false),
            "second" or "sec" or "" => (1 / 86400.0, false),
            "month" => (0, true),
            string other =>
                throw new GridException($"{path} counts time in \"{other}\", and days, hours, minutes, seconds or months were expected."),
        };
        CalendarDay since = new(Int(match, "year"), Int(match, "month"), Int(match, "day"));
        if (since.Month is < 1 or > 12 || since.Day is < 1 or > 31 || since.Year > 9999)
            throw new GridException($"{path} counts time since {since}, which is no day.");

        double fraction = (Int(match, "hour") + Int(match, "minute") / 60.0) / 24;
        return new CfTime(path, plain, days, months, since, fraction);
    }

    public CalendarDay DayOf(double value)
    {
        if (!(Math.Abs(value) < 1e12))
            throw new GridException($"{path}: a time step is {value} in its unit, which is no time.");

        if (inMonths)
        {
            int months = since.Year * 12 + since.Month - 1 + (int)Math.Floor(value);
            return new CalendarDay(months / 12, months % 12 + 1, since.Day);
        }

        // A millisecond is forgiven, so that 0.1 hours do not fall on the day before.
        return Day((long)Math.Floor(_reference + value * unitDays + 1e-8));
    }

    private static long DayNumber(string calendar, CalendarDay day)
    {
        switch (calendar)
        {
            case "360_day": return (day.Year * 12L + day.Month - 1) * 30 + day.Day - 1;
            case "noleap": return day.Year * 365L + DaysBefore[day.Month - 1] + day.Day - 1;
            case "all_leap": return day.Year * 366L + DaysBefore[day.Month - 1] + (day.Month > 2 ? 1 : 0) + day.Day - 1;
            default: break;
        }

        // Julian day number (Richards 2013, Explanatory Supplement to the Astronomical Almanac, chapter 15.11).
        long a = (14 - day.Month) / 12, y = day.Year + 4800L - a, m = day.Month + 12 * a - 3;
        long julian = day.Day + (153 * m + 2) / 5 + 365 * y + y / 4 - 32083;
        long gregorian = day.Day + (153 * m + 2) / 5 + 365 * y + y / 4 - y / 100 + y / 400 - 32045;
        bool isJulian = calendar == "julian" || (calendar == "standard" && (day.Year, day.Month, day.Day).CompareTo((1582, 10, 15)) < 0);
        return isJulian ? julian : gregorian;
    }

    private CalendarDay Day(long number)
    {
        switch (calendar)
        {
            case "360_day":
                return new CalendarDay((int)Math.Floor(number / 360.0), (int)(Mod(number, 360) / 30) + 1, (int)(Mod(number, 30)) + 1);
            case "noleap": return InYear((int)Math.Floor(number / 365.0), (int)Mod(number, 365), leap: false);
            case "all_leap": return InYear((int)Math.Floor(number / 366.0), (int)Mod(number, 366), leap: true);
            default: break;
        }

        bool isJulian = calendar == "julian" || (calendar == "standard" && number < 2299161);
        long f = number + 1401 + (isJulian ? 0 : (4 * number + 274277) / 146097 * 3 / 4 - 38);
        long e = 4 * f + 3;
        long g = Mod(e, 1461) / 4;
        long h = 5 * g + 2;
        int day = (int)(Mod(h, 153) / 5) + 1;
        int month = (int)Mod(h / 153 + 2, 12) + 1;
        return new CalendarDay((int)(e / 1461 - 4716 + (14 - month) / 12), month, day);
    }

    private static CalendarDay InYear(int year, int day, bool leap)
    {
        int month = 12;
        while (month > 1 && Before(month) > day)
            month--;

        return new CalendarDay(year, month, day - Before(month) + 1);

        int Before(int m) => DaysBefore[m - 1] + (leap && m > 2 ? 1 : 0);
    }

    private static long Mod(long a, long b) => ((a % b) + b) % b;

    private static int Int(Match match, string group) =>
        match.Groups[group].Success ? int.Parse(match.Groups[group].Value, CultureInfo.InvariantCulture) : 0;

    [GeneratedRegex(
        @"^(?<unit>[A-Za-z]+)\s+since\s+(?<year>\d{1,4})-(?<month>\d{1,2})-(?<day>\d{1,2})"
        + @"(?:[ T]+(?<hour>\d{1,2})(?::(?<minute>\d{1,2}))?(?::\d{1,2}(?:\.\d*)?)?)?\s*(?:Z|UTC|GMT|[+-]?0{1,2}(?::?00)?)?$",
        RegexOptions.IgnoreCase | RegexOptions.NonBacktracking)]
    private static partial Regex Pattern();
}
