using System.Text.Json.Serialization;

namespace DecayAtlas.Prediction.Models;

/// <summary>A model that is a formula with few numbers, saved as JSON.</summary>
[JsonPolymorphic(TypeDiscriminatorPropertyName = "formula")]
[JsonDerivedType(typeof(ConstantFormula), "constant")]
[JsonDerivedType(typeof(WarmthMoistureFormula), "warmth-moisture")]
[JsonDerivedType(typeof(LinesFormula), "lines")]
[JsonDerivedType(typeof(CurvesFormula), "curves")]
[JsonDerivedType(typeof(KrigingFormula), "kriging")]
internal abstract record Formula
{
    [JsonIgnore]
    public abstract int FeatureCount { get; }

    /// <summary>The target's value for one complete row.</summary>
    public abstract double Of(ReadOnlySpan<float> features);

    /// <summary>What the place adds to it; missing for a formula of covariates alone.</summary>
    public virtual SpatialPart? OfPlace() => null;
}

/// <summary>One value everywhere.</summary>
internal sealed record ConstantFormula(int Covariates, double Value) : Formula
{
    public override int FeatureCount => Covariates;

    public override double Of(ReadOnlySpan<float> features) => Value;
}

/// <summary>ln k = a + E0 (1/56.02 - 1/(T + 46.02)) + ln(u (1 + K)/(u + K)), u = M / mean M. Not a number where T ≤ -46.02 or M ≤
/// 0.</summary>
/// <param name="Temperature">Which of them is T (degC).</param>
/// <param name="Moisture">Which of them is M; missing for warmth alone.</param>
/// <param name="LnRateAt10">a: ln k at 10 degC and mean moisture, k in d⁻¹.</param>
/// <param name="Warming">E0, K.</param>
/// <param name="MeanMoisture">Of the training rows, in its unit.</param>
/// <param name="HalfSaturation">K, in units of the mean moisture.</param>
internal sealed record WarmthMoistureFormula(
    int Covariates, int Temperature, int? Moisture, double LnRateAt10, double Warming, double MeanMoisture, double HalfSaturation) : Formula
{
    public override int FeatureCount => Covariates;

    public static double Warmth(double celsius) => 1 / 56.02 - 1 / (celsius + 46.02);

    public override double Of(ReadOnlySpan<float> features)
    {
        if (features[Temperature] <= -46.02)
            return double.NaN;
        double wet = Moisture is { } m ? features[m] / MeanMoisture : 1;
        return LnRateAt10 + Warming * Warmth(features[Temperature]) + Math.Log(wet * (1 + HalfSaturation) / (wet + HalfSaturation));
    }
}

/// <summary>Intercept + Σ slope · x, in the units of the covariates.</summary>
internal sealed record LinesFormula(double[] Slopes, double Intercept) : Formula
{
    public override int FeatureCount => Slopes.Length;

    public override double Of(ReadOnlySpan<float> features)
    {
        double sum = Intercept;
        for (int c = 0; c < Slopes.Length; c++)
            sum += Slopes[c] * features[c];
        return sum;
    }
}

/// <summary>Intercept + Σ (slope · z + bend · z²), z = (x - mean) · scale; the slopes come first, then the bends.</summary>
internal sealed record CurvesFormula(double[] Means, double[] Scales, double[] Slopes, double Intercept) : Formula
{
    public override int FeatureCount => Means.Length;

    public static void Expand(ReadOnlySpan<double> z, Span<double> terms)
    {
        for (int c = 0; c < z.Length; c++)
            (terms[c], terms[z.Length + c]) = (z[c], z[c] * z[c]);
    }

    public override double Of(ReadOnlySpan<float> features)
    {
        double sum = Intercept;
        int width = Means.Length;
        for (int c = 0; c < width; c++)
        {
            double z = (features[c] - Means[c]) * Scales[c];
            sum += (Slopes[c] + Slopes[width + c] * z) * z;
        }
        return sum;
    }
}

/// <summary>A trend in the covariates, and a field in space: Σ weight · exp(-chord / range) over the sites.</summary>
/// <param name="Field">Missing while it is saved with many that share it.</param>
internal sealed record KrigingFormula(CurvesFormula Trend, float[] Weights, SpatialField? Field) : Formula
{
    public override int FeatureCount => Trend.FeatureCount;

    public override double Of(ReadOnlySpan<float> features) => Trend.Of(features);

    public override SpatialPart? OfPlace() => new(Field ?? throw new InvalidDataException("its sites are missing"), Weights);
}

/// <summary>Evaluates a formula row by row.</summary>
internal sealed class FormulaPredictor(Formula formula) : RatePredictor
{
    public Formula Formula => formula;

    public override SpatialPart? OfPlace { get; } = formula.OfPlace();

    public override int FeatureCount => formula.FeatureCount;

    protected override void PredictRows(ReadOnlySpan<float> features, Span<double> lnRates)
    {
        for (int row = 0; row < lnRates.Length; row++)
            lnRates[row] = formula.Of(features.Slice(row * FeatureCount, FeatureCount));
    }
}
