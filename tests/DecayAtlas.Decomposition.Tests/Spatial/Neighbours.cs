namespace DecayAtlas.Decomposition.Tests.Spatial;

/// <summary>Moran's I, worked out by hand.</summary>
public class Neighbours
{
    [Fact]
    public void Four_values_in_a_row_have_the_Moran_I_that_a_hand_finds()
    {
        // z = -1.5, -0.5, 0.5, 1.5: I = 4/3 · (0.75 - 0.25 + 0.75)/5 = 1/3; E = -1/3; S0 = 6, S1 = 12, S2 = 40:
        // var = (16 · 12 - 4 · 40 + 3 · 36)/(15 · 36) - 1/9 = 4/27, so that z = √3, and P of it is 0.0833 (tables of the normal)
        MoransI i = MoransI.Of([1, 2, 3, 4], [(0, 1), (1, 2), (2, 3)]).Value!;
        Assert.Equal((4, 3), (i.Values, i.Pairs));
        Assert.Equal(1.0 / 3, i.Value, 1e-12);
        Assert.Equal(-1.0 / 3, i.Expected, 1e-12);
        Assert.Equal(0.0833, i.PValue, 1e-4);
    }

    [Fact]
    public void Without_neighbours_or_scatter_there_is_a_sentence()
    {
        Assert.Equal("No value has a neighbour.", MoransI.Of([1, 2, 3, 4], []).Statement!.Sentence);
        Assert.Null(MoransI.Of([1, 1, 1, 1], [(0, 1)]).Value);
        Assert.Null(MoransI.Of([1, 2, 3], [(0, 1)]).Value);
    }
}
