namespace DecayAtlas.Questions.Tests.Slopes;

/// <summary>One number over forms that the data do not choose between: Burnham and Anderson 2002, 4.3.2 (from memory).</summary>
public class FormsTogether
{
    private static WarmthAnswer Answer(params (double LnRatio, double StandardError, double Aicc)[] forms) => new(
        "t", null, 40, 0,
        [
            .. forms.Select(f => new FittedWarmth("q10", "none", default, new(
                Math.Exp(f.LnRatio), Math.Exp(f.LnRatio - 1.96 * f.StandardError), Math.Exp(f.LnRatio + 1.96 * f.StandardError)), 0.5,
                f.Aicc)),
        ],
        null, null, null, []);

    [Fact]
    public void Two_forms_that_stand_alike_are_averaged_and_their_distance_is_in_the_interval()
    {
        IntervalEstimate over = Answer((0.6, 0.1, 10), (0.8, 0.1, 10)).OverForms!.Value;

        // by hand: mean 0.7, each √(0.1² + 0.1²)
        Assert.Equal(0.7, Math.Log(over.Value), 1e-12);
        Assert.Equal(0.7 - 1.96 * Math.Sqrt(0.02), Math.Log(over.Lower95), 1e-12);
        Assert.Equal(0.7 + 1.96 * Math.Sqrt(0.02), Math.Log(over.Upper95), 1e-12);
    }

    [Fact]
    public void A_form_1_39_AICc_behind_counts_half()
    {
        // exp(-2 ln 2/2) = 1/2
        IntervalEstimate over = Answer((0.9, 0.1, 0), (0.6, 0.2, 2 * Math.Log(2))).OverForms!.Value;

        Assert.Equal(0.8, Math.Log(over.Value), 1e-12);
        double error = (2 * Math.Sqrt(0.01 + 0.01) + Math.Sqrt(0.04 + 0.04)) / 3;
        Assert.Equal(0.8 + 1.96 * error, Math.Log(over.Upper95), 1e-12);
    }

    [Fact]
    public void One_form_alone_is_no_choice() => Assert.Null(Answer((0.7, 0.1, 0), (0.2, 0.1, 2.5)).OverForms);
}
