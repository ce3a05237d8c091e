using Microsoft.ML.Trainers.FastTree;

namespace DecayAtlas.Prediction;

/// <summary>
/// A sum (or mean) of regression trees in flat arrays. A block of rows passes through one tree after the other, so that
/// tree and rows stay in the processor's nearest cache.
/// </summary>
internal sealed class TreePredictor : RatePredictor
{
    private const int RowsPerBlock = 256;

    private readonly int[] roots;
    private readonly double[] treeWeights;
    private readonly Split[] splits;
    /// <summary>Two a split: where to go at or below its threshold, and above. Below 0 is the leaf <c>~child</c>.</summary>
    private readonly int[] children;
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
        splits = new Split[nodes];
        children = new int[2 * nodes];
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
                splits[node] = new(tree.NumericalSplitFeatureIndexes[i], tree.NumericalSplitThresholds[i]);
                children[2 * node] = Shifted(tree.LeftChild[i], firstNode, firstLeaf);
                children[2 * node + 1] = Shifted(tree.RightChild[i], firstNode, firstLeaf);
            }
        }
    }

    public override int FeatureCount { get; }

    public static TreePredictor Of<T>(TreeEnsemble<T> ensemble, int featureCount, bool average)
        where T : RegressionTreeBase =>
        new([.. ensemble.Trees], ensemble.TreeWeights, ensemble.Bias, featureCount, average);

    protected override void PredictRows(ReadOnlySpan<float> features, Span<double> lnRates)
    {
        for (int from = 0; from < lnRates.Length; from += RowsPerBlock)
        {
            int count = Math.Min(RowsPerBlock, lnRates.Length - from);
            PredictBlock(features.Slice(from * FeatureCount, count * FeatureCount), lnRates.Slice(from, count));
        }
    }

    private void PredictBlock(ReadOnlySpan<float> features, Span<double> sums)
    {
        sums.Clear();
        for (int t = 0; t < roots.Length; t++)
        {
            for (int row = 0, at = 0; row < sums.Length; row++, at += FeatureCount)
            {
                int node = roots[t];
                while (node >= 0)
                {
                    var split = splits[node];
                    // An index instead of a branch: which way a row goes is a coin toss to the processor.
                    node = children[2 * node + (features[at + split.Feature] > split.Threshold ? 1 : 0)];
                }
                sums[row] += treeWeights[t] * leaves[~node];
            }
        }
        // Summed in ML.NET's order and rounded to single where ML.NET does (a forest before it divides): the same bits.
        for (int row = 0; row < sums.Length; row++)
            sums[row] = (float)(sums[row] + bias) / divisor;
    }

    private static int Shifted(int child, int firstNode, int firstLeaf) =>
        child >= 0 ? child + firstNode : ~(~child + firstLeaf);

    private readonly record struct Split(int Feature, float Threshold);
}
