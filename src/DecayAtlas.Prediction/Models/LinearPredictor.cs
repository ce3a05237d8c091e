using System.Collections.Immutable;
using Microsoft.ML.Trainers;
using Microsoft.ML.Transforms;

namespace DecayAtlas.Prediction;

/// <summary>ln k = bias + Σ weight · (x − offset) · scale.</summary>
internal sealed class LinearPredictor(float[] weights, float bias, float[] offsets, float[] scales) : RatePredictor
{
    public override int FeatureCount => weights.Length;

    public static LinearPredictor Of(LinearRegressionModelParameters model, NormalizingTransformer normalizer)
    {
        if (normalizer.GetNormalizerModelParameters(0) is not NormalizingTransformer.AffineNormalizerModelParameters<ImmutableArray<float>> affine)
            throw new PredictionException("The saved linear model does not standardise its features; train it again with this version.");
        var scales = affine.Scale.ToArray();
        // An empty offset array is how ML.NET writes "no shift".
        var offsets = affine.Offset.IsDefaultOrEmpty ? new float[scales.Length] : affine.Offset.ToArray();
        return new([.. model.Weights], model.Bias, offsets, scales);
    }

    protected override void PredictRows(ReadOnlySpan<float> features, Span<double> lnRates)
    {
        for (int row = 0; row < lnRates.Length; row++)
        {
            double sum = bias;
            for (int i = 0; i < weights.Length; i++)
                sum += (double)weights[i] * (((double)features[row * weights.Length + i] - offsets[i]) * scales[i]);
            lnRates[row] = (float)sum;
        }
    }
}
