namespace DecayAtlas.Contributions.Tests.Layout;

public class OldWorkbooks
{
    [Fact]
    public void Values_and_colours_of_an_old_workbook_are_read()
    {
        TidyTable table = LaidOut.Of(OldWorkbookMaker.Bytes);
        Assert.Equal(["B1", "B2", "B3"], table.Column("bag"));
        Assert.Equal(["2.1", "2.2", "2.3"], table.Column("mass (g)"));
        Assert.Contains("FFFF00", table.Column("colour"));
    }
}
