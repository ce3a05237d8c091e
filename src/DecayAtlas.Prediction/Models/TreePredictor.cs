using Microsoft.ML.Trainers.FastTree;

namespace DecayAtlas.Prediction.Models;

/// <summary>
/// A sum (or mean) of regression trees in flat arrays. A block of rows passes through one tree after the other, so that
/// tree and rows stay in the processor's nearest cache.
/// </summary>
internal sealed class TreePredictor : RatePredictor
{
    private const int RowsPerBlock = 256, SmallestRange = 4;

    private readonly int[] _roots;
    private readonly double[] _treeWeights;
    private readonly Split[] _splits;
    /// <summary>Two a split: where to go at or below its threshold, and above. Below 0 is the leaf <c>~child</c>.</summary>
    private readonly int[] _children;
    private readonly double[] _leaves;
    private readonly double _bias;
    private readonly float _divisor;

    private TreePredictor(IReadOnlyList<RegressionTreeBase> trees, IReadOnlyList<double> weights, double bias, int featureCount,
        bool average)
    {
        FeatureCount = featureCount;
        _bias = bias;
        _divisor = average ? trees.Count : 1;
        _treeWeights = [.. weights];
        _roots = new int[trees.Count];
        int nodes = trees.Sum(t => t.NumberOfNodes), node = 0, leaf = 0;
        _splits = new Split[nodes];
        _children = new int[2 * nodes];
        _leaves = new double[trees.Sum(t => t.LeafValues.Count)];
        for (int t = 0; t < trees.Count; t++)
        {
            RegressionTreeBase tree = trees[t];
            int firstNode = node, firstLeaf = leaf;
            for (int i = 0; i < tree.LeafValues.Count; i++)
                _leaves[leaf++] = tree.LeafValues[i];
            _roots[t] = tree.NumberOfNodes > 0 ? firstNode : ~firstLeaf;
            for (int i = 0; i < tree.NumberOfNodes; i++, node++)
            {
                _splits[node] = new(tree.NumericalSplitFeatureIndexes[i], tree.NumericalSplitThresholds[i]);
                _children[2 * node] = Shifted(tree.LeftChild[i], firstNode, firstLeaf);
                _children[2 * node + 1] = Shifted(tree.RightChild[i], firstNode, firstLeaf);
            }
        }
    }

    private TreePredictor(int featureCount, double bias, float divisor, double[] weights, int[] roots, Split[] splits, int[] children,
        double[] leaves) => (FeatureCount, _bias, _divisor, _treeWeights, _roots, _splits, _children, _leaves) =
        (featureCount, bias, divisor, weights, roots, splits, children, leaves);

    public override int FeatureCount { get; }

    /// <summary>Reads what <see cref="Write"/> wrote.</summary>
    /// <exception cref="InvalidDataException">A branch leads nowhere.</exception>
    public static TreePredictor Read(BinaryReader reader)
    {
        int features = reader.ReadInt32();
        double bias = reader.ReadDouble();
        float divisor = reader.ReadSingle();
        double[] weights = Many(reader.ReadDouble);
        int[] roots = Many(reader.ReadInt32);
        Split[] splits = Many(() => new Split(reader.ReadUInt16(), reader.ReadSingle()));
        int[] children = Many(reader.ReadInt32);
        double[] leaves = Many(reader.ReadDouble);
        bool isWhole = weights.Length == roots.Length && children.Length == 2 * splits.Length && splits.All(s => s.Feature < features)
            && roots.Concat(children).All(c => c < 0 ? ~c < leaves.Length : c < splits.Length)
            // a branch that led back would be gone down for ever
            && children.Select((c, i) => c < 0 || c > i / 2).All(ahead => ahead);
        return isWhole ? new(features, bias, divisor, weights, roots, splits, children, leaves)
            : throw new InvalidDataException("a branch leads nowhere");

        T[] Many<T>(Func<T> read) => [.. Enumerable.Range(0, reader.ReadInt32()).Select(_ => read())];
    }

    public void Write(BinaryWriter writer)
    {
        writer.Write(FeatureCount);
        writer.Write(_bias);
        writer.Write(_divisor);
        Many(_treeWeights, writer.Write);
        Many(_roots, writer.Write);
        Many(_splits, split =>
        {
            writer.Write((ushort)split.Feature);
            writer.Write(split.Threshold);
        });
        Many(_children, writer.Write);
        Many(_leaves, writer.Write);

        void Many<T>(T[] values, Action<T> write)
        {
            writer.Write(values.Length);
            Array.ForEach(values, write);
        }
    }

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
        RowRanges ranges = new(features, FeatureCount, sums.Length, SmallestRange);
        for (int t = 0; t < _roots.Length; t++)
            Descend(_roots[t], _treeWeights[t], 1, 0, sums.Length, features, ranges, sums);
        // Summed in ML.NET's order and rounded to single where ML.NET does (a forest before it divides): the same bits.
        for (int row = 0; row < sums.Length; row++)
            sums[row] = (float)(sums[row] + _bias) / _divisor;
    }

    /// <summary>
    /// Takes a run of rows down a tree together as long as all go the same way, then its halves, then single rows. Neighbours on a map are
    /// alike, so that one descent serves many; every row reaches the leaf that it would reach alone.
    /// </summary>
    private void Descend(int node, double weight, int range, int from, int to, ReadOnlySpan<float> features, in RowRanges ranges,
        Span<double> sums)
    {
        while (node >= 0)
        {
            Split split = _splits[node];
            if (ranges.High(range, split.Feature) <= split.Threshold)
                node = _children[2 * node];
            else if (ranges.Low(range, split.Feature) > split.Threshold)
                node = _children[2 * node + 1];
            else
                break;
        }
        if (node < 0)
        {
            double share = weight * _leaves[~node];
            foreach (ref double sum in sums[from..to])
                sum += share;
        }
        else if (to - from > SmallestRange)
        {
            int middle = RowRanges.Middle(from, to);
            Descend(node, weight, 2 * range, from, middle, features, ranges, sums);
            Descend(node, weight, 2 * range + 1, middle, to, features, ranges, sums);
        }
        else
        {
            for (int row = from; row < to; row++)
                sums[row] += weight * _leaves[~LeafOf(node, features.Slice(row * FeatureCount, FeatureCount))];
        }
    }

    private int LeafOf(int node, ReadOnlySpan<float> row)
    {
        while (node >= 0)
        {
            Split split = _splits[node];
            // An index instead of a branch: which way a row goes is a coin toss to the processor.
            node = _children[2 * node + (row[split.Feature] > split.Threshold ? 1 : 0)];
        }
        return node;
    }

    private static int Shifted(int child, int firstNode, int firstLeaf) =>
        child >= 0 ? child + firstNode : ~(~child + firstLeaf);

    private readonly record struct Split(int Feature, float Threshold);
}
