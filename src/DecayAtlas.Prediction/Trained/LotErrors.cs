using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;

namespace DecayAtlas.Prediction.Trained;

/// <summary>
/// What the lots of rows are off by, as far as the rows tell: those of one lot lie above those of another at like places. Taken off the
/// targets before anything is learnt, or else a lot that was buried in warm places would be taken for warmth.
/// </summary>
/// <remarks>
/// Best linear unbiased prediction (Henderson 1975, Biometrics 31:423-447, from memory): curves of second degree in the covariates beside
/// one error of standard deviation 1 a lot and quantity, whose effect on each row is known. The effect was computed at the row's own k,
/// and would make a row that chance made fast look like one of a wrong lot; so it is taken at what curves expect there, by a parabola of
/// effect over target within the lot. What all rows share can't be told from the mean nor from the response, and stays in the
/// targets: a lot is told by what it differs from the others. Batches are not sought, nor lots that lie in few blocks: what errs at one
/// place is not to be told from the place.
/// </remarks>
internal sealed class LotErrors
{
    private const double Penalty = 1e-3;
    private const int Steps = 5, FewestForAParabola = 12;

    /// <summary>A lot in fewer is not told from its places (common practice, no source).</summary>
    private const int FewestBlocks = 8;

    private readonly Matrix<double>? _effects, _gain;
    private readonly int[] _blockOf;
    private readonly HashSet<string> _sought;
    private readonly double _withinSd, _betweenSd;
    private readonly Dictionary<TrainingRow, double> _offOf = new(ReferenceEqualityComparer.Instance);

    /// <param name="table">Its rows, in their order, are those that <see cref="LeftOf"/> speaks of.</param>
    /// <param name="blockOf">The spatial block of each row.</param>
    public LotErrors(CovariateTable table, int[] blockOf)
    {
        _blockOf = blockOf;
        string[] lots = [.. table.Rows.SelectMany((r, i) => r.Errors.Shared.Select(s => (Error: s, Block: blockOf[i])))
            .Where(s => !s.Error.IsOfBatch).GroupBy(s => s.Error.Quantity, s => s.Block, StringComparer.Ordinal)
            .Where(g => g.Distinct().Count() >= FewestBlocks).Select(g => g.Key).Order(StringComparer.Ordinal)];
        _sought = new(lots, StringComparer.Ordinal);
        if (lots.Length < 2)
            return;
        int n = table.Count;
        double[][] terms = CurveTerms.Of(table);
        string[] kinds = [.. lots.Select(SharedError.KindOf).Distinct(StringComparer.Ordinal)];
        int known = terms[0].Length + 1, width = known + kinds.Length;
        Matrix<double> columns = Matrix<double>.Build.Dense(n, width + lots.Length);
        for (int row = 0; row < n; row++)
        {
            columns[row, 0] = 1;
            for (int t = 1; t < known; t++)
                columns[row, t] = terms[row][t - 1];
        }

        Vector<double> targets = Vector<double>.Build.Dense(table.Targets), weights = Vector<double>.Build.Dense(table.Weights);
        double mean = targets.DotProduct(weights) / weights.Sum();
        double variance = (targets - mean).PointwiseMultiply(targets - mean).DotProduct(weights) / n;
        if (!(variance > 0))
            return;
        Matrix<double> solved = Solved(columns, weights, width, variance);
        for (int step = 0; step < Steps; step++)
        {
            if (step == 1)
                Fill(columns, table, lots, kinds, width, columns * (solved * targets));
            solved = Solved(columns, weights, width, variance);
            Vector<double> left = targets - columns * (solved * targets);
            variance = left.PointwiseMultiply(left).DotProduct(weights) / Math.Max(1, n - width);
        }

        _effects = columns.SubMatrix(0, n, width, lots.Length);
        _gain = solved.SubMatrix(width, lots.Length, 0, n);
        Vector<double> off = _effects * (_gain * targets);
        for (int row = 0; row < n; row++)
            _offOf[table.Rows[row]] = off[row];
        (_withinSd, _betweenSd) = Scatter(targets - columns * (solved * targets), blockOf);
    }

    /// <summary>The set whose table this was made of without them; also where noted records are left out.</summary>
    public TrainingSet TakenOff(TrainingSet set) => _gain is null ? set : set with
    {
        Rows = [.. set.Rows.Select(r => TakenOff(r, r))],
        WithoutNoted = set.WithoutNoted is null ? null
            : [.. set.WithoutNoted.Zip(set.Rows, (left, row) => left is null ? null : TakenOff(left, row))],
    };

    /// <summary>What is left of errors of the targets, one a row, where they are taken off like those of lots: what rows can't tell, and
    /// what is taken off wrongly, since sites and their surroundings differ by more than their covariates.</summary>
    public double[] LeftOf(double[] errors, Random random)
    {
        if (_gain is null)
            return errors;
        double[] ofBlocks = [.. Enumerable.Range(0, _blockOf.Max() + 1).Select(_ => Normal.Sample(random, 0, 1) * _betweenSd)];
        Vector<double> shown = Vector<double>.Build.Dense(
            [.. errors.Select((e, row) => e + ofBlocks[_blockOf[row]] + Normal.Sample(random, 0, 1) * _withinSd)]);
        return [.. Vector<double>.Build.Dense(errors) - _effects! * (_gain * shown)];
    }

    private TrainingRow TakenOff(TrainingRow row, TrainingRow like) => row with
    {
        Target = row.Target - _offOf[like],
        Errors = row.Errors with
        {
            Shared = [.. row.Errors.Shared.Select(s => s with { IsTakenOff = !s.IsOfBatch && _sought.Contains(s.Quantity) })],
        },
    };

    /// <summary>Standard deviations within and between blocks, by the mean squares of a one-way layout (Searle, Casella and McCulloch
    /// 1992, Variance Components, section 3.6, from memory).</summary>
    private static (double Within, double Between) Scatter(Vector<double> left, int[] blockOf)
    {
        double[][] blocks = [.. left.Zip(blockOf).GroupBy(x => x.Second, x => x.First).Select(g => g.ToArray())];
        int n = left.Count, freedom = n - blocks.Length;
        double mean = left.Average();
        if (freedom < 1 || blocks.Length < 2)
            return (Math.Sqrt(left.Average(x => (x - mean) * (x - mean))), 0);
        double within = blocks.Sum(b => b.Sum(x => (x - b.Average()) * (x - b.Average()))) / freedom;
        double between = blocks.Sum(b => b.Length * (b.Average() - mean) * (b.Average() - mean)) / (blocks.Length - 1);
        double each = (n - blocks.Sum(b => (double)b.Length * b.Length) / n) / (blocks.Length - 1);
        return (Math.Sqrt(within), Math.Sqrt(Math.Max(0, (between - within) / each)));
    }

    /// <summary>What makes of targets the coefficients of the columns that fit them best, those from <paramref name="width"/> on of
    /// standard deviation 1.</summary>
    private static Matrix<double> Solved(Matrix<double> columns, Vector<double> weights, int width, double variance)
    {
        Matrix<double> across = Matrix<double>.Build.Dense(columns.ColumnCount, columns.RowCount, (c, r) => columns[r, c] * weights[r]);
        Matrix<double> normal = across * columns;
        for (int c = 1; c < columns.ColumnCount; c++)
            normal[c, c] += c < width ? Penalty * weights.Sum() : variance;
        return normal.Cholesky().Solve(across);
    }

    private static void Fill(Matrix<double> columns, CovariateTable table, string[] lots, string[] kinds, int width,
        Vector<double> expected)
    {
        for (int q = 0; q < lots.Length; q++)
        {
            (int Row, double Effect)[] of = [.. Enumerable.Range(0, table.Count).Select(r => (r, table.Rows[r].Errors.Shared
                .Where(s => !s.IsOfBatch && s.Quantity == lots[q]).Sum(s => s.OnTarget))).Where(x => x.Item2 != 0)];
            double[] at = [.. of.Select(x => table.Targets[x.Row])], effects = [.. of.Select(x => x.Effect)];
            bool isCurve = of.Length >= FewestForAParabola && at.Distinct().Count() >= FewestForAParabola;
            Func<double, double> effectAt = isCurve ? MathNet.Numerics.Fit.PolynomialFunc(at, effects, 2) : _ => effects.Average();
            foreach ((int row, _) in of)
            {
                double effect = effectAt(Math.Clamp(expected[row], at.Min(), at.Max()));
                columns[row, width + q] = effect;
                // what one error of all lots of a kind would do
                columns[row, width - kinds.Length + Array.IndexOf(kinds, SharedError.KindOf(lots[q]))] += effect;
            }
        }
    }
}
