using Microsoft.ML;
using Microsoft.ML.Data;
using Microsoft.ML.Trainers;
using Microsoft.ML.Trainers.FastTree;
using Microsoft.ML.Transforms;

namespace DecayAtlas.Prediction;

/// <summary>
/// Evaluates a trained ML.NET model from its public parameters, many rows at a time and from any thread. ML.NET's own engine
/// builds a pipeline of cursors for each row, which a map of millions of cells cannot afford; tests hold both to the same numbers.
/// </summary>
internal abstract class RatePredictor
{
    public abstract int FeatureCount { get; }

    /// <summary>ln k (k in d⁻¹) of one row; all features finite.</summary>
    public abstract double Predict(ReadOnlySpan<float> features);

    /// <summary>Row-major features, <see cref="FeatureCount"/> a row; a row with a missing (NaN) feature gives NaN.</summary>
    public void Predict(ReadOnlySpan<float> features, Span<double> lnRates)
    {
        int width = FeatureCount;
        if (features.Length != lnRates.Length * width)
            throw new ArgumentException($"Expected {width} features for each of {lnRates.Length} rows.", nameof(features));
        for (int row = 0; row < lnRates.Length; row++)
        {
            var one = features.Slice(row * width, width);
            lnRates[row] = HasMissing(one) ? double.NaN : Predict(one);
        }
    }

    public static RatePredictor Of(ITransformer transformer)
    {
        NormalizingTransformer? normalizer = null;
        foreach (var step in Steps(transformer))
        {
            if (step is NormalizingTransformer n)
                normalizer = n;
            else if (step is ISingleFeaturePredictionTransformer<object> prediction)
                return prediction.Model switch
                {
                    LinearRegressionModelParameters linear when normalizer is not null => LinearPredictor.Of(linear, normalizer),
                    FastTreeRegressionModelParameters boosted => TreePredictor.Of(boosted.TrainedTreeEnsemble, FeaturesOf(prediction), average: false),
                    FastForestRegressionModelParameters forest => TreePredictor.Of(forest.TrainedTreeEnsemble, FeaturesOf(prediction), average: true),
                    var other => throw new PredictionException($"The saved model is a {other.GetType().Name}, expected a linear, forest or boosted-trees regression; train it again with this version."),
                };
        }
        throw new PredictionException("The saved model has no regression step; train it again with this version.");
    }

    private static int FeaturesOf(ISingleFeaturePredictionTransformer<object> prediction) =>
        prediction.FeatureColumnType is VectorDataViewType vector ? vector.Size : 1;

    private static IEnumerable<ITransformer> Steps(ITransformer transformer) =>
        transformer is IEnumerable<ITransformer> chain ? chain.SelectMany(Steps) : [transformer];

    private static bool HasMissing(ReadOnlySpan<float> features)
    {
        foreach (float value in features)
            if (!float.IsFinite(value))
                return true;
        return false;
    }
}

/// <summary>ln k = bias + Σ weight · (x − offset) · scale.</summary>
internal sealed class LinearPredictor(float[] weights, float bias, float[] offsets, float[] scales) : RatePredictor
{
    public override int FeatureCount => weights.Length;

    public static LinearPredictor Of(LinearRegressionModelParameters model, NormalizingTransformer normalizer)
    {
        if (normalizer.GetNormalizerModelParameters(0) is not NormalizingTransformer.AffineNormalizerModelParameters<System.Collections.Immutable.ImmutableArray<float>> affine)
            throw new PredictionException("The saved linear model does not standardise its features; train it again with this version.");
        var scales = affine.Scale.ToArray();
        // An empty offset array is how ML.NET writes "no shift".
        var offsets = affine.Offset.IsDefaultOrEmpty ? new float[scales.Length] : affine.Offset.ToArray();
        return new([.. model.Weights], model.Bias, offsets, scales);
    }

    public override double Predict(ReadOnlySpan<float> features)
    {
        double sum = bias;
        for (int i = 0; i < weights.Length; i++)
            sum += (double)weights[i] * (((double)features[i] - offsets[i]) * scales[i]);
        return (float)sum;
    }
}

/// <summary>A sum (or mean) of regression trees in flat arrays. A child below 0 is the leaf <c>~child</c>.</summary>
internal sealed class TreePredictor : RatePredictor
{
    private readonly int[] roots;
    private readonly double[] treeWeights;
    private readonly int[] features;
    private readonly float[] thresholds;
    private readonly int[] lower;
    private readonly int[] upper;
    private readonly double[] leaves;
    private readonly double bias;
    private readonly float divisor;

    private TreePredictor(IReadOnlyList<RegressionTreeBase> trees, IReadOnlyList<double> weights, double bias, int featureCount, bool average)
    {
        FeatureCount = featureCount;
        this.bias = bias;
        divisor = average ? trees.Count : 1;
        treeWeights = [.. weights];
        roots = new int[trees.Count];
        int nodes = trees.Sum(t => t.NumberOfNodes), node = 0, leaf = 0;
        (features, thresholds, lower, upper) = (new int[nodes], new float[nodes], new int[nodes], new int[nodes]);
        leaves = new double[trees.Sum(t => t.LeafValues.Count)];
        for (int t = 0; t < trees.Count; t++)
        {
            var tree = trees[t];
            int firstNode = node, firstLeaf = leaf;
            for (int i = 0; i < tree.LeafValues.Count; i++)
                leaves[leaf++] = tree.LeafValues[i];
            roots[t] = tree.NumberOfNodes > 0 ? firstNode : ~firstLeaf;
            for (int i = 0; i < tree.NumberOfNodes; i++, node++)
            {
                features[node] = tree.NumericalSplitFeatureIndexes[i];
                thresholds[node] = tree.NumericalSplitThresholds[i];
                lower[node] = Shifted(tree.LeftChild[i], firstNode, firstLeaf);
                upper[node] = Shifted(tree.RightChild[i], firstNode, firstLeaf);
            }
        }
    }

    public override int FeatureCount { get; }

    public static TreePredictor Of<T>(TreeEnsemble<T> ensemble, int featureCount, bool average)
        where T : RegressionTreeBase =>
        new([.. ensemble.Trees], ensemble.TreeWeights, ensemble.Bias, featureCount, average);

    public override double Predict(ReadOnlySpan<float> row)
    {
        // Sums in ML.NET's order and rounds to single where ML.NET does (a forest before it divides): the same bits.
        double sum = 0;
        for (int t = 0; t < roots.Length; t++)
        {
            int node = roots[t];
            while (node >= 0)
                node = row[features[node]] <= thresholds[node] ? lower[node] : upper[node];
            sum += treeWeights[t] * leaves[~node];
        }
        return (float)(sum + bias) / divisor;
    }

    private static int Shifted(int child, int firstNode, int firstLeaf) =>
        child >= 0 ? child + firstNode : ~(~child + firstLeaf);
}
