using System.Globalization;

namespace DecayAtlas.Serving.Features;

/// <summary>
/// A span of days, both ends included; an open end is missing. The times of the parameter <c>datetime</c> (RFC 3339, 5.6) fall onto
/// days of universal time, since burials are known by the day.
/// </summary>
internal readonly record struct DaySpan(DateOnly? From, DateOnly? To)
{
    private static readonly string[] Formats = ["yyyy-MM-dd", "yyyy-MM-dd'T'HH:mm:ssK", "yyyy-MM-dd'T'HH:mm:ss.FFFFFFFK"];

    /// <summary>Reads the parameter <c>datetime</c>: a time, a day, or two of them with a slash between, of which one may be open.</summary>
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
        var span = new DaySpan(openStart ? null : Day(ends[0]) ?? throw Fault(text), openEnd ? null : Day(ends[1]) ?? throw Fault(text));
        return span.From > span.To ? throw new QueryFaultException($"datetime is {QueryFaultException.Quoted(text)}, whose start is after its end; expected the earlier one first.") : span;
    }

    /// <summary>Whether two spans have a day in common.</summary>
    public bool Intersects(DaySpan other) => !(To < other.From) && !(From > other.To);

    /// <summary>The span as the parameter is written.</summary>
    public override string ToString() => From is { } only && From == To ? Text(only) : $"{(From is { } from ? Text(from) : "..")}/{(To is { } to ? Text(to) : "..")}";

    private static string Text(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static DateOnly? Day(string text)
    {
        // a time without its offset names no instant, which the parser would take as local
        bool hasOffset = text.Length == 10 || text.EndsWith('Z') || text.EndsWith('z') || (text.Length > 6 && text[^6] is '+' or '-');
        return hasOffset && DateTimeOffset.TryParseExact(text.ToUpperInvariant(), Formats, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out DateTimeOffset time)
            ? DateOnly.FromDateTime(time.UtcDateTime)
            : null;
    }

    private static QueryFaultException Fault(string text) => new(
        $"datetime is {QueryFaultException.Quoted(text)}; expected a time as 2024-04-15T00:00:00Z, a day as 2024-04-15, or a span of two with .. for an open end, as 2024-01-01/.. (a + in a time zone is written %2B).");
}
