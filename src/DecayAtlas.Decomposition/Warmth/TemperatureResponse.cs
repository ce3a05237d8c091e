using MathNet.Numerics.Distributions;

namespace DecayAtlas.Decomposition.Warmth;

/// <summary>One site, or one burial, as it enters the response: its k (&gt; 0) and the mean soil or air temperature of the
/// exposure.</summary>
/// <param name="Moisture">In any unit; for all values or for none.</param>
/// <param name="Weight">1/variance of ln k up to a factor (&gt; 0).</param>
public readonly record struct WarmthPoint(double RatePerDay, double TemperatureCelsius, double? Moisture = null, double Weight = 1);

/// <summary>The temperature responses offered; each is linear in ln k.</summary>
public enum WarmthForm
{
    /// <summary><c>ln k = a + T ln(Q10)/10</c> (van 't Hoff 1898).</summary>
    Q10,

    /// <summary><c>ln k = a - E/(R (T + 273.15))</c>, E in kJ mol⁻¹, R = 8.314462618 J mol⁻¹ K⁻¹ (Arrhenius 1889).</summary>
    Arrhenius,

    /// <summary><c>ln k = a + E0 (1/56.02 - 1/(T + 46.02))</c>, E0 in K; 308.56 in the source (Lloyd and Taylor 1994, Functional Ecology
    /// 8:315-323, from memory).</summary>
    LloydTaylor,
}

/// <summary>How moisture enters ln k.</summary>
public enum MoistureTerm
{
    None,
    Linear,

    /// <summary>With an optimum.</summary>
    Quadratic,
}

/// <summary>An estimate with its 95 % interval.</summary>
public readonly record struct IntervalEstimate(double Value, double Lower95, double Upper95)
{
    internal static IntervalEstimate OfLog(double value, double lower, double upper) =>
        new(Math.Exp(value), Math.Exp(lower), Math.Exp(upper));
}

/// <summary>A fitted response of k to temperature.</summary>
public sealed class TemperatureResponse
{
    private const double GasConstant = 8.314462618e-3;    // kJ mol⁻¹ K⁻¹ (CODATA 2018)
    private readonly LinearRegression _fit;
    private readonly double _moistureCentre;
    private readonly double _t;

    private TemperatureResponse(WarmthForm form, MoistureTerm moisture, LinearRegression fit, double moistureCentre, int points,
        double totalSquares)
    {
        Form = form;
        Moisture = moisture;
        _fit = fit;
        _moistureCentre = moistureCentre;
        _t = StudentT.InvCDF(0, 1, fit.DegreesOfFreedom, 0.975);
        Points = points;
        ShareExplained = 1 - fit.ResidualSumOfSquares / totalSquares;
    }

    public WarmthForm Form { get; }

    public MoistureTerm Moisture { get; }

    public int Points { get; }

    /// <summary>Residual standard deviation of ln k.</summary>
    public double ResidualSd => Math.Sqrt(_fit.ResidualSumOfSquares / _fit.DegreesOfFreedom);

    /// <summary>R² of ln k.</summary>
    public double ShareExplained { get; }

    /// <summary>Missing where there are too few points.</summary>
    public double? Aicc => Curves.DecayCurves.Aicc(_fit.ResidualSumOfSquares, Points, _fit.Coefficients.Length);

    /// <summary>The parameter of the form: Q10 (1), E (kJ mol⁻¹), or E0 (K).</summary>
    public IntervalEstimate Sensitivity => Form == WarmthForm.Q10 ? Exponential([0, 10]) : Linear([0, 1]);

    /// <summary>Effect of one unit of moisture on ln k, at the mean moisture; missing where moisture is not in the model.</summary>
    public IntervalEstimate? MoistureEffect => Moisture == MoistureTerm.None ? null : Linear([0, 0, 1]);

    /// <summary>Second-degree effect of moisture; below zero there is an optimum.</summary>
    public IntervalEstimate? MoistureCurvature => Moisture == MoistureTerm.Quadratic ? Linear([0, 0, 0, 1]) : null;

    /// <summary>Weighted least squares on ln k.</summary>
    /// <remarks>
    /// Points must be independent: give one for each site (mean ln k) and not one for each burial. Temperature and moisture that go
    /// together across sites can't be told apart by any fit; look at the intervals.
    /// </remarks>
    public static Answer<TemperatureResponse> Fit(IReadOnlyList<WarmthPoint> points, WarmthForm form,
        MoistureTerm moisture = MoistureTerm.None)
    {
        if (points.Any(p => !(p.RatePerDay > 0) || !double.IsFinite(p.RatePerDay + p.TemperatureCelsius) || !(p.Weight > 0)))
            return new Unanswered("Each point needs a rate above 0, a temperature and a weight above 0.");
        if (moisture != MoistureTerm.None && points.Any(p => p.Moisture is not { } m || !double.IsFinite(m)))
            return new Unanswered("Moisture is missing for some points; leave them out, or moisture.");
        double coldest = form == WarmthForm.LloydTaylor ? -46.02 : -273.15;
        if (points.Any(p => p.TemperatureCelsius <= coldest))
            return new Unanswered("A temperature lies below the coldest that the response allows.");
        int parameters = 2 + (int)moisture;
        if (points.Count < parameters + 2)
            return Unanswered.TooFew("points", points.Count, parameters + 2);

        WarmthPoint[] sorted = [.. points.OrderBy(p => p.TemperatureCelsius).ThenBy(p => p.RatePerDay).ThenBy(p => p.Moisture)
            .ThenBy(p => p.Weight)];
        double[] y = [.. sorted.Select(p => Math.Log(p.RatePerDay))], weights = [.. sorted.Select(p => p.Weight)];
        double centre = moisture == MoistureTerm.None ? 0 : sorted.Average(p => p.Moisture!.Value);
        Answer<LinearRegression> found = LinearRegression.Fit(
            [.. sorted.Select(p => Row(form, moisture, p.TemperatureCelsius, (p.Moisture ?? 0) - centre))], y, weights);
        if (found.Value is not { } fit)
            return found.Statement!;
        double mean = y.Zip(weights, (v, w) => v * w).Sum() / weights.Sum();
        double total = y.Zip(weights, (v, w) => w * (v - mean) * (v - mean)).Sum();
        return total > 0
            ? new TemperatureResponse(form, moisture, fit, centre, points.Count, total)
            : Unanswered.NoScatter("rates");
    }

    /// <summary>The rate at a temperature (and moisture; its mean where left out), with the interval of the curve (not of a single
    /// site).</summary>
    public IntervalEstimate RateAt(double temperatureCelsius, double? moisture = null) =>
        Exponential(Row(Form, Moisture, temperatureCelsius, moisture is { } m ? m - _moistureCentre : 0));

    /// <summary>By how much the rate multiplies from 5 °C below to 5 °C above a temperature.</summary>
    public IntervalEstimate Q10At(double temperatureCelsius)
    {
        double[] warm = Row(Form, MoistureTerm.None, temperatureCelsius + 5, 0),
            cold = Row(Form, MoistureTerm.None, temperatureCelsius - 5, 0);
        return Exponential([0, warm[1] - cold[1]]);
    }

    private static double[] Row(WarmthForm form, MoistureTerm moisture, double celsius, double moistureFromMean)
    {
        // T from 10 °C on, so that the first coefficient is ln k at 10 °C
        double x = form switch
        {
            WarmthForm.Q10 => celsius - 10,
            WarmthForm.Arrhenius => (1 / 283.15 - 1 / (celsius + 273.15)) / GasConstant,
            _ => 1 / 56.02 - 1 / (celsius + 46.02),
        };
        return moisture switch
        {
            MoistureTerm.None => [1, x],
            MoistureTerm.Linear => [1, x, moistureFromMean],
            _ => [1, x, moistureFromMean, moistureFromMean * moistureFromMean],
        };
    }

    private IntervalEstimate Linear(ReadOnlySpan<double> c)
    {
        (double value, double error) = _fit.Combine(c);
        return new IntervalEstimate(value, value - _t * error, value + _t * error);
    }

    private IntervalEstimate Exponential(ReadOnlySpan<double> c)
    {
        IntervalEstimate log = Linear(c);
        return IntervalEstimate.OfLog(log.Value, log.Lower95, log.Upper95);
    }
}
