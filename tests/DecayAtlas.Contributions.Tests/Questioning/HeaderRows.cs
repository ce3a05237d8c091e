namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>The row of names as a sender says it, right and off by one.</summary>
public class HeaderRows
{
    private static readonly string Table = "Weighings of the spring\n\n" + AskedSheet.Head("Before (g),After (g)")
        + AskedSheet.Bags("1", "2.41,1.30", "2.61,2.01") + AskedSheet.Bags("2", "2.42,1.31", "2.62,2.02");

    private static Inquiry Ask(int row) => SheetInquiry.Of(AskedSheet.FileOf(Table), AskedSheet.Campaign,
        new Dictionary<string, string> { ["places"] = "open" }, SenderWords.Find("en")!, IntakeLimits.Default, new DateOnly(2026, 1, 1),
        new TableWishes(HeaderRow: row));

    [Fact]
    public void The_right_one_is_taken() => Assert.NotNull(Ask(3).Mapping);

    [Theory]
    [InlineData(1)]
    [InlineData(4)]
    [InlineData(5)]
    public void Another_is_refused_with_the_one_that_seems_meant(int row)
    {
        Inquiry inquiry = Ask(row);
        Assert.Null(inquiry.Mapping);
        Finding finding = Assert.Single(inquiry.Findings);
        Assert.Equal((FindingCode.HeaderMissing, row), (finding.Code, finding.Row));
        Assert.Contains("row 3", finding.Mend, StringComparison.Ordinal);
    }
}
