using FsCheck.Xunit;

namespace DecayAtlas.Decomposition.Tests.Warmth;

/// <summary>Temperature responses against R 4.2 <c>lm</c>; script in warmth.R beside this file.</summary>
public class Responses
{
    private static readonly double[] T = [2.1, 4.5, 6.3, 8.8, 10.2, 11.9, 13.4, 15.0, 17.7, 19.2, 21.5, 24.3];
    private static readonly double[] M = [.31, .22, .4, .28, .18, .35, .26, .42, .2, .33, .15, .24];
    private static readonly double[] K = [0.00428, 0.00558, 0.00642, 0.00737, 0.00829, 0.00963, 0.00953, 0.01342, 0.01221, 0.0173, 0.01747,
        0.02009];

    private static WarmthPoint[] Points(bool weighted = false) =>
        [.. T.Select((t, i) => new WarmthPoint(K[i], t, M[i], weighted ? 1 << (i % 3) : 1))];

    private static void Near(double value, double lower, double upper, IntervalEstimate found)
    {
        Assert.Equal(1, found.Value / value, 1e-8);
        Assert.Equal(1, found.Lower95 / lower, 1e-8);
        Assert.Equal(1, found.Upper95 / upper, 1e-8);
    }

    [Fact]
    public void Q10_with_moisture_and_weights()
    {
        TemperatureResponse r = TemperatureResponse.Fit(Points(weighted: true), WarmthForm.Q10, MoistureTerm.Linear).Value!;
        Near(1.98681533748, 1.84810259111, 2.13593942471, r.Sensitivity);
        Near(0.587997468048, 0.033124725540, 1.142870210556, r.MoistureEffect!.Value);
        Assert.Equal(0.982860377167, r.ShareExplained, 1e-10);
        Assert.Equal(0.102445543879, r.ResidualSd, 1e-10);
        Near(1.98681533748, 1.84810259111, 2.13593942471, r.Q10At(3));
    }

    [Fact]
    public void Arrhenius() => Near(47.2435322140, 41.6584473816, 52.8286170465,
        TemperatureResponse.Fit(Points(), WarmthForm.Arrhenius).Value!.Sensitivity);

    [Fact]
    public void Lloyd_and_Taylor()
    {
        TemperatureResponse r = TemperatureResponse.Fit(Points(), WarmthForm.LloydTaylor).Value!;
        Near(235.650280253, 208.274209146, 263.026351360, r.Sensitivity);
        Near(0.0159678138793, 0.0147793441937, 0.0172518534477, r.RateAt(20));
    }

    [Fact]
    public void Moisture_with_an_optimum() => Near(4.18113962132, -3.23286693406, 11.59514617671,
        TemperatureResponse.Fit(Points(), WarmthForm.Q10, MoistureTerm.Quadratic).Value!.MoistureCurvature!.Value);

    [Fact]
    public void The_published_curve_gives_its_own_constant_back()
    {
        // Lloyd and Taylor 1994: R = R10 exp(308.56 (1/56.02 - 1/(T + 46.02))), 1 at 10 °C (from memory); at 20 °C by hand exp(308.56 ·
        // 0.00270384) = 2.3032
        WarmthPoint[] points = [.. new[] { 0.0, 5, 10, 20, 30 }.Select((t, i) => new WarmthPoint(
            0.01 * Math.Exp(308.56 * (1 / 56.02 - 1 / (t + 46.02)) + (i % 2 == 0 ? 1e-6 : -1e-6)), t))];
        TemperatureResponse r = TemperatureResponse.Fit(points, WarmthForm.LloydTaylor).Value!;
        Assert.Equal(308.56, r.Sensitivity.Value, 0.01);
        Assert.Equal(0.01, r.RateAt(10).Value, 1e-7);
        Assert.Equal(2.3032, r.RateAt(20).Value / r.RateAt(10).Value, 1e-4);
        Assert.True(r.Q10At(5).Value > r.Q10At(20).Value);
    }

    [Fact]
    public void What_can_not_be_told_is_said()
    {
        Assert.Contains("are needed", TemperatureResponse.Fit(Points()[..3], WarmthForm.Q10).Statement!.Sentence);
        Assert.Contains("can't be told apart",
            TemperatureResponse.Fit([.. K.Select(k => new WarmthPoint(k, 10))], WarmthForm.Q10).Statement!.Sentence);
        Assert.Contains("can't be told apart",
            TemperatureResponse.Fit([.. T.Select((t, i) => new WarmthPoint(K[i], t, t / 100))], WarmthForm.Q10,
                MoistureTerm.Linear).Statement!.Sentence);
        Assert.Contains(" are equal",
            TemperatureResponse.Fit([.. T.Select(t => new WarmthPoint(1, t))], WarmthForm.Q10).Statement!.Sentence);
        Assert.Contains("Each point needs a rate above 0",
            TemperatureResponse.Fit([.. T.Select(t => new WarmthPoint(-1, t))], WarmthForm.Q10).Statement!.Sentence);
        Assert.Contains("Moisture is missing",
            TemperatureResponse.Fit([.. T.Select(t => new WarmthPoint(1, t))], WarmthForm.Q10, MoistureTerm.Linear).Statement!.Sentence);
    }

    [Property(MaxTest = 50)]
    public bool The_unit_of_time_and_the_order_change_no_Q10(byte seed)
    {
        RandomStream random = new(seed, "warmth");
        WarmthPoint[] points = [.. T.Select(t => new WarmthPoint(Math.Exp(0.07 * t + 0.2 * random.NextNormalPair().First), t))];
        double one = TemperatureResponse.Fit(points, WarmthForm.Q10).Value!.Sensitivity.Value;
        double other =
            TemperatureResponse.Fit([.. points.Reverse().Select(p => p with { RatePerDay = 365 * p.RatePerDay })],
                WarmthForm.Q10).Value!.Sensitivity.Value;
        return Math.Abs(one - other) < 1e-10;
    }
}
