namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>A footer that takes a hole back: only its sender knows which row is meant.</summary>
public class WithdrawnLines
{
    private static readonly string Table = AskedSheet.Head("Before (g),After (g)") + AskedSheet.Bags("1", "2.41,1.30", "2.61,2.01")
        + AskedSheet.Bags("2", "2.42,1.31", "2.62,2.02") + "\n";

    [Theory]
    [InlineData("Hole 2 was dug over by a mole: do not use")]
    [InlineData("Loch 2 bitte nicht verwenden")]
    [InlineData("El hoyo 2: no usar")]
    [InlineData("Le trou 2 est à écarter")]
    public void Are_asked_about_and_keep_the_table_out_until_its_rows_say_it(string line)
    {
        Question question = Assert.Single(AskedSheet.Ask(Table + line + "\n").Questions);
        Assert.Equal("withdrawn-lines", question.Id);
        Assert.Contains(question.Seen, cell => cell.Text.Contains(line, StringComparison.Ordinal));
        Assert.Equal(4, AskedSheet.Read(Table + line + "\n", ("withdrawn-lines", "no")).Count);
        Inquiry withdrawn = AskedSheet.Ask(Table + line + "\n", ("withdrawn-lines", "yes"));
        Assert.Null(withdrawn.Mapping);
        Assert.NotEmpty(withdrawn.Findings);
    }

    [Fact]
    public void Are_none_where_a_footer_speaks_of_something_else() =>
        Assert.Empty(AskedSheet.Ask(Table + "Weighed on the balance of the chemistry room\n").Questions);
}
