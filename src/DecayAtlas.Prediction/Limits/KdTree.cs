namespace DecayAtlas.Prediction.Limits;

/// <summary>
/// Nearest neighbours among points of any dimension. Source: Friedman, Bentley and Finkel 1977, ACM TOMS 3:209-226: split the
/// widest side at its median, search the nearer half first, and the other only if it can hold something nearer.
/// </summary>
/// <remarks>Own code, since the k-d tree of NetTopologySuite is of two dimensions only. Safe to use from many threads.</remarks>
internal sealed class KdTree
{
    private const int LeafSize = 8;

    private readonly int _dimensions;
    private readonly double[] _points;
    private readonly int[] _order;
    private readonly List<Node> _nodes = [];

    /// <param name="points">Row-major, <paramref name="dimensions"/> values a point; at least one point, all finite.</param>
    public KdTree(double[] points, int dimensions)
    {
        _dimensions = dimensions;
        _order = [.. Enumerable.Range(0, points.Length / dimensions)];
        _points = points;
        Build(0, _order.Length);
        // Points in the order of the leaves, so that a leaf is one run of memory.
        _points = [.. _order.SelectMany(p => points.Skip(p * dimensions).Take(dimensions))];
    }

    /// <summary>Euclidean distance to the nearest point.</summary>
    public double NearestDistance(ReadOnlySpan<double> query)
    {
        double best = double.PositiveInfinity;
        Nearest(0, query, ref best);
        return Math.Sqrt(best);
    }

    /// <summary>How many points lie within <paramref name="distance"/> (at most that far).</summary>
    public int CountWithin(ReadOnlySpan<double> query, double distance) => CountWithin(0, query, distance * distance);

    private void Nearest(int at, ReadOnlySpan<double> query, ref double best)
    {
        Node node = _nodes[at];
        if (node.Axis < 0)
        {
            for (int p = node.From; p < node.To; p++)
                best = Math.Min(best, SquaredDistance(p, query));
            return;
        }
        double gap = query[node.Axis] - node.Split;
        Nearest(gap < 0 ? at + 1 : node.Right, query, ref best);
        if (gap * gap < best)
            Nearest(gap < 0 ? node.Right : at + 1, query, ref best);
    }

    private int CountWithin(int at, ReadOnlySpan<double> query, double squared)
    {
        Node node = _nodes[at];
        int count = 0;
        if (node.Axis < 0)
        {
            for (int p = node.From; p < node.To; p++)
                count += SquaredDistance(p, query) <= squared ? 1 : 0;
            return count;
        }
        double gap = query[node.Axis] - node.Split;
        count = CountWithin(gap < 0 ? at + 1 : node.Right, query, squared);
        return gap * gap <= squared ? count + CountWithin(gap < 0 ? node.Right : at + 1, query, squared) : count;
    }

    private double SquaredDistance(int point, ReadOnlySpan<double> query)
    {
        double sum = 0;
        int at = point * _dimensions;
        for (int d = 0; d < query.Length; d++)
        {
            double difference = _points[at + d] - query[d];
            sum += difference * difference;
        }
        return sum;
    }

    /// <summary>The left child stands right behind its parent.</summary>
    private void Build(int from, int to)
    {
        int here = _nodes.Count;
        (int axis, double width) = to - from > LeafSize ? WidestAxis(from, to) : (-1, 0);
        if (axis < 0 || width == 0)
        {
            _nodes.Add(new(-1, 0, from, to, 0));
            return;
        }
        Array.Sort(_order, from, to - from, Comparer<int>.Create((a, b) =>
        {
            int byValue = _points[a * _dimensions + axis].CompareTo(_points[b * _dimensions + axis]);
            return byValue != 0 ? byValue : a.CompareTo(b);
        }));
        int middle = (from + to) / 2;
        double split = _points[_order[middle] * _dimensions + axis];
        _nodes.Add(default);
        Build(from, middle);
        _nodes[here] = new(axis, split, from, to, _nodes.Count);
        Build(middle, to);
    }

    private (int Axis, double Width) WidestAxis(int from, int to)
    {
        (int axis, double width) = (0, -1);
        for (int d = 0; d < _dimensions; d++)
        {
            double low = double.PositiveInfinity, high = double.NegativeInfinity;
            for (int i = from; i < to; i++)
            {
                double value = _points[_order[i] * _dimensions + d];
                (low, high) = (Math.Min(low, value), Math.Max(high, value));
            }
            if (high - low > width)
                (axis, width) = (d, high - low);
        }
        return (axis, width);
    }

    private readonly record struct Node(int Axis, double Split, int From, int To, int Right);
}
