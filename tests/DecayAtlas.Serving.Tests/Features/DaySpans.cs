namespace DecayAtlas.Serving.Tests.Features;

/// <summary>The parameter datetime, as requirement fc-time-definition of OGC 17-069r4 and RFC 3339, 5.6 and 5.8, lay it down.</summary>
public sealed class DaySpans
{
    [Theory]
    [InlineData("1985-04-12T23:20:50.52Z", "1985-04-12")] // the examples of RFC 3339, 5.8
    [InlineData("1996-12-19T16:39:57-08:00", "1996-12-20")]
    [InlineData("1937-01-01T12:00:27.87+00:20", "1937-01-01")]
    [InlineData("1990-12-31T23:59:60Z", "1990-12-31")] // a leap second
    [InlineData("1990-12-31T15:59:60-08:00", "1990-12-31")] // the same
    [InlineData("2024-04-15T23:59:59.123456789012Z", "2024-04-15")] // 5.6: as many digits as one likes
    [InlineData("1985-04-12t23:20:50.52z", "1985-04-12")] // 5.6: T and Z may be lower case
    [InlineData("2024-04-15", "2024-04-15")]
    [InlineData("2018-02-12T00:00:00Z/2018-03-18T12:31:12Z", "2018-02-12/2018-03-18")] // the examples of 7.15.4
    [InlineData("2018-02-12T00:00:00Z/..", "2018-02-12/..")]
    [InlineData("../2018-03-18T12:31:12Z", "../2018-03-18")]
    [InlineData("2018-02-12T00:00:00Z/", "2018-02-12/..")]
    [InlineData("/2018-03-18T12:31:12Z", "../2018-03-18")]
    public void A_time_or_a_span_is_read(string text, string days) => Assert.Equal(days, DaySpan.Parse(text).ToString());

    [Theory]
    [InlineData("")]
    [InlineData("..")]
    [InlineData("/")]
    [InlineData("../..")]
    [InlineData("2024-02-30")]
    [InlineData("2024-04-15T00:00:00")] // no offset: no instant
    [InlineData("2024-04-15T25:00:00Z")]
    [InlineData("2024-04-15T12:00:60Z")] // 5.7: only the last minute of a day has a 60th second
    [InlineData("2024-04-15T12:00:00.Z")]
    [InlineData("2024-04-15T12:00:00Z\n")]
    [InlineData("15.04.2024")]
    [InlineData("2024-04-15/2024-04-16/2024-04-17")]
    [InlineData("2024-04-15/2023-04-15")]
    [InlineData("now")]
    public void What_is_none_is_refused(string text) =>
        Assert.Contains("expected", Assert.Throws<QueryFaultException>(() => DaySpan.Parse(text)).Message, StringComparison.Ordinal);

    [Theory]
    [InlineData("2024-03-01/2024-06-01", "2024-06-01/..", true)]
    [InlineData("2024-03-01/2024-06-01", "2024-06-02/..", false)]
    [InlineData("2024-03-01/2024-06-01", "../2024-03-01", true)]
    [InlineData("2024-03-01/2024-06-01", "../2024-02-29", false)]
    [InlineData("2024-03-01/2024-06-01", "2024-04-15", true)]
    public void Spans_intersect_where_they_share_a_day(string one, string other, bool share)
    {
        Assert.Equal(share, DaySpan.Parse(one).Intersects(DaySpan.Parse(other)));
        Assert.Equal(share, DaySpan.Parse(other).Intersects(DaySpan.Parse(one)));
    }
}
