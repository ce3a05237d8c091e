namespace DecayAtlas.Prediction.Tests;

/// <summary>Both ends of a scale of change bear a number, and what is drawn lies between them.</summary>
public class ScalesOfChange
{
    private static readonly double[] Spread = [-0.4, -0.1, 0, 0.2, 0.3];

    private static RateScale Of(bool isOfRatios, params double[] changes)
    {
        ThinnedMap raster = new(changes.Length, 1);
        for (int i = 0; i < changes.Length; i++)
            raster.Add(i, 0, changes[i], true);
        return RateScale.OfChange(raster, isOfRatios);
    }

    private static string Labels(RateScale scale) => string.Join(' ', scale.Marks().Select(m => m.Label));

    [Theory]
    // A uniform change is the hard case: all values lie on one spot. The labels follow from 1 / r by hand.
    [InlineData(1.005, "0.99 1 1.01")]
    [InlineData(1.17, "0.8 0.91 1 1.1 1.25")]
    [InlineData(1.22, "0.8 0.91 1 1.1 1.25")]
    [InlineData(0.85, "0.8 0.91 1 1.1 1.25")]
    [InlineData(1.25, "0.8 0.91 1 1.1 1.25")]
    [InlineData(1.26, "0.67 0.8 1 1.25 1.5")]
    [InlineData(2.9, "0.33 0.5 0.67 1 1.5 2 3")]
    [InlineData(0.03, "0.01 0.1 1 10 100")]
    public void A_uniform_ratio_lies_between_round_ratios(double ratio, string labels)
    {
        // as rasters hold it
        float held = (float)Math.Log(ratio);
        RateScale scale = Of(true, held, held, held);
        Assert.Equal(labels, Labels(scale));
        Ends(scale, held);
    }

    [Theory]
    [InlineData(0.021, "-0.025 -0.0125 0 0.0125 0.025")]
    [InlineData(-0.028, "-0.03 -0.015 0 0.015 0.03")]
    [InlineData(0.03, "-0.03 -0.015 0 0.015 0.03")]
    [InlineData(0.1, "-0.1 -0.05 0 0.05 0.1")]
    [InlineData(-0.97, "-1 -0.5 0 0.5 1")]
    [InlineData(0, "-0.01 -0.005 0 0.005 0.01")]
    [InlineData(1e-5, "-0.01 -0.005 0 0.005 0.01")]
    public void A_uniform_difference_lies_between_round_differences(double difference, string labels)
    {
        float held = (float)difference;
        RateScale scale = Of(false, held, held, held);
        Assert.Equal(labels, Labels(scale));
        Ends(scale, held);
    }

    private static void Ends(RateScale scale, double value)
    {
        Assert.InRange(value, scale.Low, scale.High);
        Assert.False(scale.OpenBelow || scale.OpenAbove);
        // the bar is drawn a few hundred pixels long
        Assert.Equal(scale.High, scale.Marks()[^1].Value, 1e-5);
        Assert.Equal(scale.Low, scale.Marks()[0].Value, 1e-5);
    }

    [Fact]
    public void What_differs_from_place_to_place_has_the_same_ends()
    {
        Assert.Equal("-0.4 -0.2 0 0.2 0.4", Labels(Of(false, Spread)));
        // e^0.4 = 1.492
        Assert.Equal("0.67 0.8 1 1.25 1.5", Labels(Of(true, Spread)));
    }

    [Fact]
    public void A_map_without_any_change_to_draw_still_has_a_scale() =>
        Assert.Equal("0.99 1 1.01", Labels(RateScale.OfChange(new ThinnedMap(2, 2), isOfRatios: true)));
}
