using FsCheck.Xunit;

namespace DecayAtlas.Decomposition.Tests.Curves;

/// <summary>Decay curves against R 4.2 <c>nls</c> and its profile-likelihood <c>confint</c> (package MASS); script and series in curves.R
/// beside this file.</summary>
public class DecaySeries
{
    private static readonly double[] Days = [7, 7, 14, 14, 28, 28, 42, 42, 60, 60, 90, 90, 120, 120, 180, 180, 240, 240, 365, 365];
    private static readonly double[] A = [0.9148, 0.9394, 0.8648, 0.8708, 0.7452, 0.7597, 0.6406, 0.6532, 0.5729, 0.5924, 0.4345, 0.475,
        0.4229, 0.4245, 0.3797, 0.3843, 0.374, 0.3903, 0.3532, 0.3646];
    private static readonly double[] D = [0.8303, 0.8481, 0.7316, 0.705, 0.5518, 0.5685, 0.4828, 0.4758, 0.457, 0.4516, 0.3757, 0.3938,
        0.3742, 0.3697, 0.345, 0.3381, 0.3156, 0.3131, 0.2611, 0.2693];

    private static double Named(CurveFit fit, string name) => fit.Parameters.Single(p => p.Name == name).Value;

    private static CurvePoint[] Points(double[] w) => [.. w.Select((x, i) => new CurvePoint(Days[i], x))];

    [Theory]
    [InlineData("A", CurveForm.SingleExponential, "k", 0.006119319829413, 0.000661791714458, 0.00469703125014, 0.00797669782925)]
    [InlineData("A", CurveForm.Asymptotic, "k", 0.0184988310648, 0.000619287500843, 0.0172695410152, 0.0198217866084)]
    [InlineData("A", CurveForm.Asymptotic, "r", 0.3594907133107, 0.007099178734518, 0.3445332420691, 0.3740619374521)]
    [InlineData("D", CurveForm.SingleExponential, "k", 0.01011974026260, 0.00144492653709, 0.00691706459517, 0.01509161202216)]
    [InlineData("D", CurveForm.Asymptotic, "k", 0.0353461007961, 0.00225614718456, 0.0305941503847, 0.0410127220909)]
    [InlineData("D", CurveForm.Asymptotic, "r", 0.3301980288219, 0.01110998768687, 0.3056555950702, 0.3539713310450)]
    [InlineData("D", CurveForm.DoubleExponential, "k1", 0.0481851414632, 0.001838680497178, 0.04449087798635, 0.05228358336434)]
    [InlineData("D", CurveForm.DoubleExponential, "k2", 0.0013804555925, 0.000115790684616, 0.00113527590798, 0.00162512424398)]
    [InlineData("D", CurveForm.DoubleExponential, "p", 0.5621935453501, 0.009728006503396, 0.54176564854210, 0.58289558489984)]
    public void Estimates_errors_and_profile_intervals_are_those_of_R(
        string series, CurveForm form, string name, double value, double error, double lower, double upper)
    {
        CurveFit fit = DecayCurves.Fit(Points(series == "A" ? A : D), form).Value!;
        FittedParameter p = fit.Parameters.Single(x => x.Name == name);

        Assert.Equal(1, p.Value / value, 1e-6);
        Assert.Equal(1, p.StandardError!.Value / error, 1e-5);
        // R interpolates the profile with a spline
        Assert.Equal(1, p.Lower95!.Value / lower, 2e-3);
        Assert.Equal(1, p.Upper95!.Value / upper, 2e-3);
    }

    [Fact]
    public void Curves_are_weighed_by_AICc()
    {
        IReadOnlyList<CurveCandidate> candidates = DecayCurves.Compare(Points(D));

        // n ln(RSS/n) + 2K + 2K(K+1)/(n-K-1) of the nls fits: -68.7157486, -131.2997666, -171.7739976
        Assert.Equal([-68.7157486, -131.2997666, -171.7739976],
            candidates.Select(c => c.Fit.Value!.Aicc!.Value), (x, y) => Math.Abs(x - y) < 1e-5);
        Assert.Equal(1, candidates.Sum(c => c.Weight!.Value), 12);
        Assert.Equal(Math.Exp(-(171.7739976 - 131.2997666) / 2), candidates[1].Weight!.Value, 1e-8);
    }

    [Fact]
    public void A_slow_pool_that_does_not_decay_stands_on_its_bound_and_says_so()
    {
        // R's unbounded nls finds k2 = -0.000188 for series A: outside what a litter can do
        FittedParameter k2 = DecayCurves.Fit(Points(A), CurveForm.DoubleExponential).Value!.Parameters[1];
        Assert.True(k2.AtBound);
        Assert.Equal(0, k2.Value);
        Assert.Null(k2.StandardError);
        Assert.Null(k2.Lower95);
        Assert.True(k2.Upper95 > 0);
    }

    [Fact]
    public void The_band_is_zero_at_burial_and_holds_the_curve()
    {
        CurveFit fit = DecayCurves.Fit(Points(A), CurveForm.Asymptotic).Value!;
        Assert.Equal(1, fit.RemainingAt(0), 12);
        Assert.Equal((1.0, 1.0), fit.BandAt(0));
        (double lower, double upper) = fit.BandAt(100);
        Assert.InRange(fit.RemainingAt(100), lower, upper);
        // far out only r is left: r ± t(0.975, 18) se(r), t = 2.100922 (Student's table)
        Assert.Equal(0.3594907133107 + 2.100922 * 0.007099178734518, fit.BandAt(1e5).Upper, 1e-6);
    }

    [Fact]
    public void What_a_series_can_not_give_is_said()
    {
        Assert.Contains("are needed", Why([new(30, 0.8), new(60, 0.7)], CurveForm.Asymptotic));
        Assert.Contains("are needed", Why([new(30, 0.8), new(30, 0.7), new(30, 0.75)], CurveForm.Asymptotic));
        Assert.Contains("does not fall", Why([new(30, 1.01), new(60, 1.02), new(90, 1.03)], CurveForm.SingleExponential));
        Assert.Contains("Each point needs days above 0", Why([new(0, 1), new(60, 0.7), new(90, 0.5)], CurveForm.SingleExponential));
        // one rate throughout: two pools can't be told apart
        CurvePoint[] one = [.. Enumerable.Range(1, 8).Select(i => new CurvePoint(i * 20, Math.Exp(-0.01 * i * 20)))];
        Assert.Contains("does not tell two rates apart", Why(one, CurveForm.DoubleExponential));

        static string Why(CurvePoint[] points, CurveForm form) => DecayCurves.Fit(points, form).Statement!.Sentence;
    }

    [Property(MaxTest = 30)]
    public bool A_curve_without_noise_gives_its_own_parameters(byte a, byte b)
    {
        double k = 0.003 + a / 255.0 * 0.04, r = 0.05 + 0.6 * b / 255.0;
        CurvePoint[] points = [.. new[] { 10, 30, 60, 90, 150, 240 }.Select(t => new CurvePoint(t, r + (1 - r) * Math.Exp(-k * t)))];
        CurveFit fit = DecayCurves.Fit(points, CurveForm.Asymptotic).Value!;
        return Math.Abs(Named(fit, "k") - k) < 1e-8 && Math.Abs(Named(fit, "r") - r) < 1e-8;
    }

    [Property(MaxTest = 20)]
    public bool Order_changes_nothing_and_days_scale(byte seed)
    {
        RandomStream random = new(seed);
        CurvePoint[] points = [
            .. Days.Select(t => new CurvePoint(t, 0.3 + 0.7 * Math.Exp(-0.02 * t) + 0.02 * random.NextNormalPair().First))];
        CurveFit fit = DecayCurves.Fit(points, CurveForm.Asymptotic).Value!;
        CurveFit reversed = DecayCurves.Fit([.. points.Reverse()], CurveForm.Asymptotic).Value!;
        CurveFit weeks = DecayCurves.Fit([.. points.Select(p => p with { Days = p.Days / 7 })], CurveForm.Asymptotic).Value!;
        return fit.Parameters.SequenceEqual(reversed.Parameters) && Math.Abs(Named(weeks, "k") / Named(fit, "k") / 7 - 1) < 1e-8;
    }
}
