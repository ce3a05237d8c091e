using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace DecayAtlas.Decomposition.Mixed.Equations;

/// <summary>
/// Fewer shared quantities that say the same: quantities of variance 1 that the same records share count only by C Cᵀ, and so by the
/// leading principal columns of C; what only one record has is error of its own.
/// </summary>
public static class SharedQuantities
{
    /// <summary>Squares of scaled effects, summed over all burials of a group of quantities, that may be taken as each record's own: -2 l
    /// moves by about this much.</summary>
    private const double Least = 1e-6;

    /// <param name="scale">What each of the two outcomes is divided by.</param>
    /// <param name="outcomes">1 or 2.</param>
    /// <returns>The same records in the same order, effects on outcomes they have not left out.</returns>
    public static MixedRecord[] Reduce(IReadOnlyList<MixedRecord> records, IReadOnlyList<double> scale, int outcomes)
    {
        Effects[][] effects = [.. records.Select(r => EffectsOf(r, outcomes))];
        List<SharedLoading>[] shared = [.. records.Select(_ => new List<SharedLoading>())];
        OutcomeCovariance[] own = [.. records.Select(r => r.MeanError)];
        foreach (Group group in Groups(effects))
        {
            if (group.Records.Length == 1)
            {
                int only = group.Records[0];
                foreach (Effects e in effects[only].Where(e => group.Names.Contains(e.Quantity)))
                    own[only] = Plus(own[only], e.First, e.Second);
                continue;
            }

            Add(group);
        }

        return [.. records.Select((r, i) => r with { Shared = shared[i], MeanError = own[i] })];

        void Add(Group group)
        {
            Dictionary<string, int> columns = group.Names.Order(StringComparer.Ordinal).Select((n, c) => (n, c))
                .ToDictionary(x => x.n, x => x.c, StringComparer.Ordinal);
            int width = columns.Count;
            Matrix<double> first = Matrix<double>.Build.Dense(group.Records.Length, width);
            Matrix<double> second = Matrix<double>.Build.Dense(group.Records.Length, width);
            Matrix<double> squares = Matrix<double>.Build.Dense(width, width);
            for (int i = 0; i < group.Records.Length; i++)
            {
                int record = group.Records[i];
                foreach (Effects e in effects[record])
                {
                    if (columns.TryGetValue(e.Quantity, out int c))
                        (first[i, c], second[i, c]) = (e.First, e.Second);
                }

                double n = records[record].Count;
                AddSquares(squares, first, i, n / (scale[0] * scale[0]));
                AddSquares(squares, second, i, n / (scale[1] * scale[1]));
            }

            Evd<double> eigen = squares.Evd(Symmetricity.Symmetric);
            // smallest first
            int dropped = 0;
            double rest = 0;
            while (dropped < width && rest + Math.Max(0, eigen.EigenValues[dropped].Real) < Least)
                rest += Math.Max(0, eigen.EigenValues[dropped++].Real);
            (first, second) = (first * eigen.EigenVectors, second * eigen.EigenVectors);
            string name = columns.First().Key;
            for (int i = 0; i < group.Records.Length; i++)
            {
                int record = group.Records[i];
                for (int c = 0; c < width; c++)
                {
                    if (c < dropped)
                        own[record] = Plus(own[record], first[i, c], second[i, c]);
                    else
                        shared[record].Add(new SharedLoading($"{name}\u001f{width - c}", first[i, c], second[i, c]));
                }
            }
        }
    }

    private static void AddSquares(Matrix<double> squares, Matrix<double> effects, int row, double weight)
    {
        for (int a = 0; a < squares.RowCount; a++)
        {
            double left = weight * effects[row, a];
            if (left == 0)
                continue;
            for (int b = 0; b < squares.ColumnCount; b++)
                squares[a, b] += left * effects[row, b];
        }
    }

    private static OutcomeCovariance Plus(OutcomeCovariance c, double first, double second) =>
        new(c.First + first * first, c.Cross + first * second, c.Second + second * second);

    // a quantity named twice in a record counts with the sum
    private static Effects[] EffectsOf(MixedRecord record, int outcomes) =>
    [
        .. record.Shared.GroupBy(s => s.Quantity, StringComparer.Ordinal).Select(g => new Effects(
            g.Key, record.First is null ? 0 : g.Sum(s => s.OnFirst), outcomes < 2 || record.Second is null ? 0 : g.Sum(s => s.OnSecond)))
            .Where(e => e.First != 0 || e.Second != 0),
    ];

    /// <summary>Quantities that the same records share, and those that most of these share and no other.</summary>
    private static List<Group> Groups(Effects[][] effects)
    {
        Dictionary<string, List<int>> recordsOf = new(StringComparer.Ordinal);
        for (int i = 0; i < effects.Length; i++)
        {
            foreach (Effects e in effects[i])
            {
                if (!recordsOf.TryGetValue(e.Quantity, out List<int>? list))
                    recordsOf[e.Quantity] = list = new List<int>();
                list.Add(i);
            }
        }

        List<Group> groups = new();
        List<Group>?[] touching = new List<Group>?[effects.Length];
        foreach ((string name, List<int> of) in recordsOf.OrderByDescending(x => x.Value.Count).ThenBy(x => x.Key, StringComparer.Ordinal))
        {
            Group? home = touching[of[0]]?.Find(g => 2 * of.Count >= g.Records.Length && of.TrueForAll(i => g.Holds(i)));
            if (home is null)
            {
                groups.Add(home = new Group([.. of]));
                foreach (int i in of)
                    (touching[i] ??= []).Add(home);
            }

            home.Names.Add(name);
        }

        return groups;
    }

    /// <param name="First">0 where the record has no such outcome.</param>
    private readonly record struct Effects(string Quantity, double First, double Second);

    /// <param name="Records">In rising order.</param>
    private sealed record Group(int[] Records)
    {
        public HashSet<string> Names { get; } = new(StringComparer.Ordinal);

        public bool Holds(int record) => Array.BinarySearch(Records, record) >= 0;
    }
}
