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

    /// <summary>What the place adds; missing for a model that knows covariates alone.</summary>
    public virtual SpatialPart? OfPlace => null;

    /// <summary>ln k (k in d⁻¹) of one row; all features finite.</summary>
    /// <param name="place">Where it lies; where that is not known, the answer is that of the covariates.</param>
    public double Predict(ReadOnlySpan<float> features, GeoPoint? place = null)
    {
        Span<double> lnRate = stackalloc double[1];
        PredictRows(features, lnRate);
        if (place is { } known)
            OfPlace?.AddTo(lnRate, [known]);
        return lnRate[0];
    }

    /// <summary>Row-major features, <see cref="FeatureCount"/> a row; a row with a missing (NaN) feature gives NaN.</summary>
    /// <param name="places">Of the rows, or none where they are not known.</param>
    public void Predict(ReadOnlySpan<float> features, Span<double> lnRates, ReadOnlySpan<GeoPoint> places = default)
    {
        int width = FeatureCount;
        if (features.Length != lnRates.Length * width)
            throw new ArgumentException($"Expected {width} features for each of {lnRates.Length} rows.", nameof(features));
        PredictRows(features, lnRates);
        OfPlace?.AddTo(lnRates, places);
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

    /// <summary>As <see cref="Predict(ReadOnlySpan{float}, Span{double}, ReadOnlySpan{GeoPoint})"/> but for what the place adds; what it
    /// gives for a row with a missing feature is overwritten.</summary>
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
