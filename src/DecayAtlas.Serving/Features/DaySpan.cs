using System.Globalization;
using System.Text.RegularExpressions;

namespace DecayAtlas.Serving.Features;

/// <summary>A span of days, both ends included; an open end is missing. The times of the parameter <c>datetime</c> (RFC 3339, 5.6) fall
/// onto days of universal time, since burials are known by the day.</summary>
internal readonly partial record struct DaySpan(DateOnly? From, DateOnly? To)
{
    /// <summary>Reads the parameter <c>datetime</c>: a time, a day, or two of them with a slash between, of which one may be
    /// open.</summary>
    /// <exception cref="QueryFaultException">It is none of these.</exception>
    public static DaySpan Parse(string text)
    {
        string[] ends = text.Split('/');
        if (ends.Length == 1)
        {
            DateOnly day = Day(ends[0]) ?? throw Fault(text);
            return new DaySpan(day, day);
        }

        bool openStart = ends[0] is "" or "..", openEnd = ends[^1] is "" or "..";
        if (ends.Length != 2 || (openStart && openEnd))
            throw Fault(text);
        DaySpan span = new(openStart ? null : Day(ends[0]) ?? throw Fault(text), openEnd ? null : Day(ends[1]) ?? throw Fault(text));
        return span.From > span.To ? throw new QueryFaultException(
            $"datetime is {QueryFaultException.Quoted(text)}, whose start is after its end; expected the earlier one first.") : span;
    }

    public bool Intersects(DaySpan other) => !(To < other.From) && !(From > other.To);

    /// <summary>The span as the parameter is written.</summary>
    public override string ToString() => From is not null && From == To ? Text(From) : $"{Text(From)}/{Text(To)}";

    private static string Text(DateOnly? day) => day is null ? ".." : $"{day:O}";

    private static DateOnly? Day(string text)
    {
        if (DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day))
            return day;
        if (Time().Match(text) is not { Success: true } match)
            return null;
        // no clock of ours has a leap second; it is the last of its day
        (string second, bool isLeap) = match.Groups["second"].Value is "60" ? ("59", true) : (match.Groups["second"].Value, false);
        string plain = $"{match.Groups["minute"]}:{second}{match.Groups["offset"]}".ToUpperInvariant();
        const string Form = "yyyy-MM-dd'T'HH:mm:ssK";
        return DateTimeOffset.TryParseExact(plain, Form, CultureInfo.InvariantCulture, DateTimeStyles.None, out DateTimeOffset time)
            && (!isLeap || time.UtcDateTime is { Hour: 23, Minute: 59 }) ? DateOnly.FromDateTime(time.UtcDateTime) : null;
    }

    // a time without its offset names no instant; digits of a second, however many, move no day
    [GeneratedRegex(
        @"^(?<minute>[0-9-]{10}[Tt][0-9]{2}:[0-9]{2}):(?<second>[0-9]{2})(\.[0-9]+)?(?<offset>[Zz]|[+-][0-9]{2}:[0-9]{2})\z",
        RegexOptions.ExplicitCapture | RegexOptions.NonBacktracking)]
    private static partial Regex Time();

    private static QueryFaultException Fault(string text) => new("datetime", text, "a time as 2024-04-15T00:00:00Z, a day as 2024-04-15, "
        + "or a span of two with .. for an open end, as 2024-01-01/.. (a + in a time zone is written %2B)");
}
