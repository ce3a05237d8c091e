namespace DecayAtlas.Pages.Tests;

public class Axes
{
    [Fact]
    public void A_logarithmic_axis_marks_1_2_and_5_of_each_power_of_ten() =>
        Assert.Equal([0.002, 0.005, 0.01, 0.02, 0.05], Axis.Log(0.002, 0.05, 0, 100).Ticks.Select(t => Math.Round(t, 12)));

    [Fact]
    public void A_logarithmic_axis_too_short_for_three_such_marks_is_marked_in_even_steps() =>
        Assert.Equal([0.008, 0.01, 0.012, 0.014, 0.016, 0.018], Axis.Log(0.0068, 0.0185, 0, 100).Ticks.Select(t => Math.Round(t, 12)));
}
