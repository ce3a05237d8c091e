namespace DecayAtlas.Decomposition.Tests.Mixed;

/// <summary>A shared error that moves some records more than others: the fit takes its mean, intervals what it does to each.</summary>
public class ErrorsThatDifferByRecord
{
    // twelve sites of four burials, six in each half, the same scatter within sites everywhere
    private static MixedRecord[] Records(Func<int, double> here, double mean)
    {
        double[] sites = [-0.31, 0.12, 0.05, 0.22, -0.17, 0.09, 0.04, -0.26, 0.33, -0.08, 0.15, -0.18], burials = [-0.1, 0.05, 0.07, -0.02];
        return [.. sites.SelectMany((s, i) => burials.Select(b => new MixedRecord(
            -4.6 + 0.3 * (i % 2) + s + b, null, [$"site {i}"], [1, i % 2])
        {
            Shared = [new SharedLoading("H of a lot", mean)],
            SharedHere = [new SharedLoading("H of a lot", here(i))],
        }))];
    }

    private static FixedEffect Difference(MixedRecord[] records) =>
        MixedModel.Fit(records, [new MixedFactor("site")], 1).Value!.Effect(0, [0, 1]);

    // JCGM 100:2008, 5.2.2, equation 16: what one quantity moves two means by in full correlation moves their difference by the difference
    [Theory]
    [InlineData(0.10, 0.04)]
    [InlineData(0.02, 0.08)]
    [InlineData(0.06, 0.06)]
    public void A_difference_is_moved_by_what_its_sides_are_moved_by_unlike(double even, double odd)
    {
        FixedEffect alike = Difference(Records(_ => 0.06, 0.06)), unlike = Difference(Records(i => i % 2 == 0 ? even : odd, 0.06));

        Assert.Equal(alike.Value, unlike.Value, 1e-12);
        Assert.Equal(Square(alike.StandardError) + Square(odd - even), Square(unlike.StandardError), 1e-10);
        // what is known adds no doubt about variances: Welch and Satterthwaite, JCGM 100:2008, G.4.1, equation G.2b
        Assert.Equal(
            alike.DegreesOfFreedom * Math.Pow(unlike.StandardError / alike.StandardError, 4), unlike.DegreesOfFreedom,
            1e-6 * unlike.DegreesOfFreedom);
    }

    [Fact]
    public void A_mean_has_the_error_of_its_own_records()
    {
        MixedRecord[] records = Records(i => i % 2 == 0 ? 0.1 : 0.04, 0.06), alike = Records(_ => 0.06, 0.06);

        FixedEffect even = MixedModel.Fit(records, [new MixedFactor("site")], 1).Value!.Effect(0, [1, 0]);
        FixedEffect before = MixedModel.Fit(alike, [new MixedFactor("site")], 1).Value!.Effect(0, [1, 0]);

        Assert.Equal(Square(before.StandardError) - Square(0.06) + Square(0.1), Square(even.StandardError), 1e-10);
    }

    private static double Square(double x) => x * x;
}
