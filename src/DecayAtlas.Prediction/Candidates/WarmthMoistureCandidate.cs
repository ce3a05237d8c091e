namespace DecayAtlas.Prediction.Candidates;

/// <summary>
/// The published response that a learned model must beat: warmth after Lloyd and Taylor 1994 (Functional Ecology 8:315-323),
/// limited by dry soil as in Reichstein et al. 2003 (Global Biogeochemical Cycles 17:1104; both from memory),
/// <c>k = k10 exp(E0 (1/56.02 - 1/(T + 46.02))) M/(M + K)</c>, fitted to ln k by weighted nonlinear least squares.
/// </summary>
/// <remarks>T in degC; M in its own unit, above 0; the moisture term is left out where the configuration names none.</remarks>
internal sealed class WarmthMoistureCandidate : Candidate
{
    private readonly int _temperature;
    private readonly int? _moisture;

    private WarmthMoistureCandidate(int temperature, int? moisture)
        : base(moisture is null ? "warmth" : "warmth-moisture", moisture is null ? "Published response to warmth"
            : "Published response to warmth and moisture") =>
        (_temperature, _moisture) = (temperature, moisture);

    /// <summary>Missing for a target other than k, or where no temperature is named.</summary>
    public static WarmthMoistureCandidate? Of(TrainingSet set, TrainingOptions options)
    {
        if (set.Target != PredictionTarget.DecayRate || options.TemperatureCovariate is not { } temperature)
            return null;
        int t = IndexOf(set, temperature, "temperature");
        if (!CelsiusUnit.Is(set.Covariates[t].Unit))
        {
            throw new PredictionException($"The baseline's temperature '{temperature}' has the unit '{set.Covariates[t].Unit}', "
                + "expected degC; set scale, offset and unit in the grid catalogue.");
        }

        int? m = options.MoistureCovariate is { } moisture ? IndexOf(set, moisture, "moisture") : null;
        foreach (TrainingRow row in set.Rows)
        {
            if (row.Covariates[t] <= -46)
            {
                throw new PredictionException(Invariant($"Site '{row.SiteKey}' has {row.Covariates[t]} for '{temperature}', ")
                    + "and the baseline's response to warmth is defined above -46 degC only; check the unit of the grid.");
            }

            if (m is { } column && !(row.Covariates[column] > 0))
            {
                throw new PredictionException(
                    Invariant($"Site '{row.SiteKey}' has {row.Covariates[column]} for '{options.MoistureCovariate}', and the baseline's ")
                    + "moisture must be above 0; name another covariate or leave baseline moisture out.");
            }
        }
        FeatureCoding coding = FeatureCoding.Of(set.Covariates);
        return new(coding.ColumnsOf(t).First, m is { } wet ? coding.ColumnsOf(wet).First : null);
    }

    public override IReadOnlyList<Setting> Settings(TrainingOptions options) => [new()];

    public override FittedModel Fit(CovariateTable table, Setting setting, TrainingOptions options)
    {
        double[] warmth = [.. table.Column(_temperature).Select(WarmthMoistureFormula.Warmth)];
        double[] wet = [.. _moisture is { } m ? table.Column(m) : Enumerable.Repeat(1.0, table.Count)];
        double mean = wet.Average();
        for (int r = 0; r < wet.Length; r++)
            wet[r] /= mean;
        Answer<LeastSquaresFit> fit = NonlinearLeastSquares.Fit(
            new Response(warmth, wet), table.Targets, table.Weights,
            // The half-saturation lies between a thousandth and a thousandfold of the mean moisture: beyond, the term says nothing.
            new SearchBox([table.Targets.Average(), 308.56, 0], [double.NegativeInfinity, 0, -7], [double.PositiveInfinity, 3000, 7]),
            [false, false, _moisture is null]);
        if (fit.Value is not { } found)
            throw new PredictionException($"The baseline response to warmth and moisture cannot be fitted: {fit.Statement!.Sentence}");
        return FittedModel.Of(new WarmthMoistureFormula(
            table.FeatureCount, _temperature, _moisture, found.Parameters[0], found.Parameters[1], mean, Math.Exp(found.Parameters[2])));
    }

    private static int IndexOf(TrainingSet set, string name, string what)
    {
        int at = set.Covariates.ToList().FindIndex(c => c.Name == name);
        return at >= 0 && set.Covariates[at].IsClass
            ? throw new PredictionException($"The baseline's {what} '{name}' is a class, and a number is needed; name another.")
            : at >= 0 ? at
            : throw new PredictionException($"The baseline's {what} '{name}' is not among the model's covariates "
            + $"({string.Join(", ", set.Covariates.Select(c => c.Name))}); add it to train.covariates or name another.");
    }

    /// <summary>ln k = a + E0 g(T) + ln(u (1 + K)/(u + K)): u is moisture over its mean, and a is ln k at 10 degC and mean moisture, so
    /// that a and K do not mix.</summary>
    private sealed class Response(double[] warmth, double[] wet) : IRegression
    {
        public int Parameters => 3;

        public int Observations => warmth.Length;

        public double Expect(int i, ReadOnlySpan<double> parameters, Span<double> gradient)
        {
            double half = Math.Exp(parameters[2]);
            gradient[0] = 1;
            gradient[1] = warmth[i];
            gradient[2] = half / (1 + half) - half / (wet[i] + half);
            return parameters[0] + parameters[1] * warmth[i] + Math.Log(wet[i] * (1 + half) / (wet[i] + half));
        }
    }
}
