using Microsoft.ML;
using Microsoft.ML.Data;
using Microsoft.ML.Trainers.FastTree;
using Microsoft.ML.Trainers.LightGbm;

namespace DecayAtlas.Prediction.Models;

/// <summary>
/// Evaluates a trained ML.NET model from its public parameters, many rows at a time and from any thread. ML.NET's own engine
/// builds a pipeline of cursors for each row, which a map of millions of cells cannot afford; tests hold both to the same numbers.
/// </summary>
internal abstract class RatePredictor
{
    public abstract int FeatureCount { get; }

    /// <summary>ln k (k in d⁻¹) of one row; all features finite.</summary>
    public double Predict(ReadOnlySpan<float> features)
    {
        Span<double> lnRate = stackalloc double[1];
        PredictRows(features, lnRate);
        return lnRate[0];
    }

    /// <summary>Row-major features, <see cref="FeatureCount"/> a row; a row with a missing (NaN) feature gives NaN.</summary>
    public void Predict(ReadOnlySpan<float> features, Span<double> lnRates)
    {
        int width = FeatureCount;
        if (features.Length != lnRates.Length * width)
            throw new ArgumentException($"Expected {width} features for each of {lnRates.Length} rows.", nameof(features));
        PredictRows(features, lnRates);
        for (int row = 0; row < lnRates.Length; row++)
        {
            if (HasMissing(features.Slice(row * width, width)))
                lnRates[row] = double.NaN;
        }
    }

    public static RatePredictor Of(ITransformer transformer)
    {
        ISingleFeaturePredictionTransformer<object> prediction =
            Steps(transformer).OfType<ISingleFeaturePredictionTransformer<object>>().FirstOrDefault()
            ?? throw new PredictionException("The saved model has no regression step; train it again with this version.");
        int features = prediction.FeatureColumnType is VectorDataViewType vector ? vector.Size : 1;
        return prediction.Model switch
        {
            FastTreeRegressionModelParameters boosted => TreePredictor.Of(boosted.TrainedTreeEnsemble, features, average: false),
            FastForestRegressionModelParameters forest => TreePredictor.Of(forest.TrainedTreeEnsemble, features, average: true),
            LightGbmRegressionModelParameters gradient => TreePredictor.Of(gradient.TrainedTreeEnsemble, features, average: false),
            object other => throw new PredictionException($"The saved model is a {other.GetType().Name}, expected a forest or boosted "
                + "trees; train it again with this version."),
        };
    }

    /// <summary>As <see cref="Predict(ReadOnlySpan{float}, Span{double})"/>; what it gives for a row with a missing feature is
    /// overwritten.</summary>
    protected abstract void PredictRows(ReadOnlySpan<float> features, Span<double> lnRates);

    private static IEnumerable<ITransformer> Steps(ITransformer transformer) =>
        transformer is IEnumerable<ITransformer> chain ? chain.SelectMany(Steps) : [transformer];

    private static bool HasMissing(ReadOnlySpan<float> features)
    {
        foreach (float value in features)
        {
            if (!float.IsFinite(value))
                return true;
        }

        return false;
    }
}
