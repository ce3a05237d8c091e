namespace DecayAtlas.Contributions.Tests.Layout;

/// <summary>Rows of means as classes name them, with all labels that a bag has: no bags of their own.</summary>
public class NamedMeans
{
    // by hand: (3.84 + 3.86 + 3.82) / 3 = 3.84, (1.90 + 1.84 + 1.81) / 3 = 1.85; (4.74 + 4.70 + 4.78) / 3 = 4.74, 3.59 of 3.60, 3.55, 3.62
    private static string Table(string first, string second, string mean) => $"""
        {first};{second};litter;buried;before (g);after (g)
        8a;1;fast;14.04.2027;3.84;1.90
        8a;2;fast;14.04.2027;3.86;1.84
        8a;3;fast;14.04.2027;3.82;1.81
        {mean};fast;14.04.2027;3.84;1.85
        8a;1;slow;14.04.2027;4.74;3.60
        8a;2;slow;14.04.2027;4.70;3.55
        8a;3;slow;14.04.2027;4.78;3.62
        {mean};slow;14.04.2027;4.74;3.59
        """;

    [Theory]
    [InlineData("Ø 8a;")]
    [InlineData("Klassenschnitt 8a;")]
    [InlineData("8a ges.;")]
    [InlineData("X\u0304 8a;")]
    [InlineData("class mean;")]
    [InlineData("8a;Ø")]
    public void Are_left_out_and_told(string mean)
    {
        TidyTable table = LaidOut.Of(Table("class", "hole", mean));
        Assert.Equal(["1.90", "1.84", "1.81", "3.60", "3.55", "3.62"], table.Column("after (g)"));
        Assert.Equal(2, table.ToldOf("aggregate-rows"));
    }

    /// <summary>A pot of 8 cm is no mean: its rows have numbers of their own and all that others have.</summary>
    [Fact]
    public void Are_not_what_a_sign_alone_makes_of_a_bag()
    {
        string pots = Table("pot", "hole", "8a;4").Replace("8a", "Ø 8 cm", StringComparison.Ordinal)
            .Replace("3.84;1.85", "3.97;2.07", StringComparison.Ordinal).Replace("4.74;3.59", "4.31;3.11", StringComparison.Ordinal);
        Assert.Equal(8, LaidOut.Of(pots).Rows.Count);
    }
}
