namespace DecayAtlas.Decomposition.Mixed.Equations;

/// <summary>
/// What values tell of the variances, by quadratic forms over directions in which V changes:
/// <code>
/// average    yᵀ P V_j P V_k P y        expected    tr(P V_j P V_k)        twice the information of the log likelihood
/// </code>
/// </summary>
/// <remarks>Average information: Gilmour, Thompson and Cullis 1995, Biometrics 51:1440-1450, and Johnson and Thompson 1995, J. Dairy
/// Science 78:449-456 (from memory).</remarks>
internal sealed class MixedInformation
{
    /// <summary>Where there are no more effects and errors than so many, the trace is taken over each of them.</summary>
    private const int Few = 600;

    /// <summary>Else over so many draws of all their signs, which is off by some per cent (Hutchinson 1989, Communications in Statistics
    /// 18:1059-1076, from memory).</summary>
    private const int Draws = 32;

    /// <summary>And over fewer of so many records, whose units tell of most variances by their number.</summary>
    private const int Many = 5000, DrawsOfMany = 8;

    /// <summary>Of a factor of no more units than so many the trace is taken over its units: draws tell little of a variance between few,
    /// which is all that effects between them hang on.</summary>
    private const int FewUnits = 100;

    private readonly MixedDesign _design;
    private readonly MixedLikelihood _likelihood;

    public MixedInformation(MixedDesign design, MixedLikelihood likelihood) => (_design, _likelihood) = (design, likelihood);

    /// <summary>An entry of the covariance of a block's outcomes; the last block is the residual.</summary>
    public readonly record struct Direction(int Block, OutcomeCovariance Change)
    {
        /// <summary>In which the entry moves that a number of the search stands for.</summary>
        public static Direction OfEntry(int place) => new(place / 4, MixedParameters.IsDiagonal(place)
            ? place % 4 == 0 ? new OutcomeCovariance(1) : new OutcomeCovariance(0, 0, 1) : new OutcomeCovariance(0, 1));
    }

    /// <summary>The average information over entries of loadings.</summary>
    public double[,] Average(int[] places)
    {
        Direction[] directions = [.. places.Select(OfLoading)];
        (double, double)[] weighted = new (double, double)[_likelihood.Parts.Length];
        for (int i = 0; i < weighted.Length; i++)
            weighted[i] = (_likelihood.Parts[i].G1, _likelihood.Parts[i].G2);
        double[,] information = Products(weighted, directions);
        AddWithin(information, directions, (part, j, k) => part.WithinInformation(j, k));
        return information;
    }

    /// <summary>The expected information over entries of covariances, also of those that stand at zero.</summary>
    public double[,] Expected(Direction[] directions)
    {
        int m = directions.Length, all = _design.FixedStart + 2 * _design.Records.Length;
        bool isWhole = all <= Few;
        double[][,] rounds = new double[isWhole ? all : _design.Records.Length > Many ? DrawsOfMany : Draws][,];
        // each from a stream of its own and added in order, so that the order in which they are done changes nothing
        Parallel.For(0, rounds.Length, round =>
        {
            RandomStream random = new((ulong)round, "information");
            double[] drawn = [.. Enumerable.Range(0, all).Select(i => isWhole ? i == round ? 1 : 0 : (random.NextBits() >> 63) * 2.0 - 1)];
            rounds[round] = Products(Weighted(Values(drawn)), directions);
        });
        double[,] sum = new double[m, m];
        foreach (double[,] one in rounds)
        {
            for (int j = 0; j < m; j++)
            {
                for (int k = 0; k < m; k++)
                    sum[j, k] += one[j, k] / (isWhole ? 1 : rounds.Length);
            }
        }

        for (int f = 0; f < _design.Factors.Length && !isWhole; f++)
        {
            if (_design.UnitNames[f].Length <= FewUnits)
                SetOfUnits(sum, directions, f);
        }

        AddWithin(sum, directions, (part, j, k) => part.ExpectedWithin(j, k));
        return sum;
    }

    /// <summary>tr(P V_j P V_k) of the entries j of one factor's covariance, over its units: zᵀ P V_k P z.</summary>
    private void SetOfUnits(double[,] information, Direction[] directions, int factor)
    {
        // first outcome, second, both together
        (double First, double Second)[] outcomes = _design.Outcomes == 1 ? [(1, 0)] : [(1, 0), (0, 1), (1, 1)];
        int units = _design.UnitNames[factor].Length;
        double[][] own = new double[units * outcomes.Length][];
        Parallel.For(0, own.Length, i =>
        {
            (double, double) one = outcomes[i % outcomes.Length];
            own[i] = Own(Weighted([.. _design.UnitOf[factor].Select(u => u == i / outcomes.Length ? one : (0, 0))]), directions);
        });
        for (int j = 0; j < directions.Length; j++)
        {
            if (directions[j].Block != factor)
                continue;
            OutcomeCovariance d = directions[j].Change;
            for (int k = 0; k < directions.Length; k++)
            {
                double trace = 0;
                for (int u = 0; u < units; u++)
                {
                    double Of(int outcome) => own[u * outcomes.Length + outcome][k];
                    trace += d.Cross != 0 ? Of(2) - Of(0) - Of(1) : d.First != 0 ? Of(0) : Of(1);
                }

                information[j, k] = information[k, j] = trace;
            }
        }
    }

    /// <summary>gᵀ V_j g.</summary>
    public double[] Own((double First, double Second)[] g, Direction[] directions)
    {
        double[][] sums = SumsOf(g);
        return [.. directions.Select(d =>
        {
            double sum = 0;
            if (d.Block < sums.Length)
            {
                for (int u = 0; u < sums[d.Block].Length; u += 2)
                    sum += Square(d.Change, sums[d.Block][u], sums[d.Block][u + 1]);
                return sum;
            }

            for (int i = 0; i < g.Length; i++)
                sum += Square(d.Change, g[i].First, g[i].Second) / _design.Records[i].Count;
            return sum;
        })];

        static double Square(OutcomeCovariance d, double a, double b) => d.First * a * a + 2 * d.Cross * a * b + d.Second * b * b;
    }

    /// <summary>gᵀ V_j P V_k g.</summary>
    /// <param name="g">By record and outcome, 0 where there is none.</param>
    private double[,] Products((double First, double Second)[] g, Direction[] directions)
    {
        int m = directions.Length;
        double[] right = new double[_design.Size * m], products = new double[m * m], taken = new double[m * m];
        Moved moved = new(this, g, directions);
        RecordRows w = new();
        for (int i = 0; i < g.Length; i++)
        {
            moved.AddTo(right, i, w);
            for (int j = 0; j < m; j++)
            {
                ManyNumbers.Add(
                    products.AsSpan(j * m, j + 1), moved.First, moved.WeightedFirst[j], moved.Second, moved.WeightedSecond[j]);
            }
        }

        _likelihood.SolveLower(right, m);
        for (int i = 0; i < right.Length; i += m)
        {
            for (int j = 0; j < m; j++)
                ManyNumbers.Add(taken.AsSpan(j * m, j + 1), right.AsSpan(i, m), right[i + j]);
        }

        double[,] symmetric = new double[m, m];
        for (int j = 0; j < m; j++)
        {
            for (int k = 0; k <= j; k++)
                symmetric[k, j] = symmetric[j, k] = products[j * m + k] - taken[j * m + k];
        }

        return symmetric;
    }

    /// <summary>Σ_jk W_jk V_k P V_j g.</summary>
    public (double First, double Second)[] Response((double First, double Second)[] g, Direction[] directions, double[,] covariance)
    {
        int m = directions.Length, factors = _design.Factors.Length;
        double[] right = new double[_design.Size * m], x1 = new double[m], x2 = new double[m], p1 = new double[m], p2 = new double[m];
        Moved moved = new(this, g, directions);
        RecordRows w = new();
        for (int i = 0; i < g.Length; i++)
            moved.AddTo(right, i, w);
        _likelihood.SolveLower(right, m);
        _likelihood.SolveUpper(right, m);

        // by direction and unit; of the residual by record
        double[][] sums = [.. directions.Select(d => new double[2 * (d.Block < factors ? _design.UnitNames[d.Block].Length : g.Length)])];
        for (int i = 0; i < g.Length; i++)
        {
            ref readonly RecordPart part = ref _likelihood.Parts[i];
            moved.To(i);
            w.Fill(_design, _likelihood.Loadings, i);
            int[] unknowns = _design.PatternOf[i].Unknowns;
            Array.Clear(x1);
            Array.Clear(x2);
            for (int a = 0; a < unknowns.Length; a++)
            {
                ManyNumbers.Add(x1, right.AsSpan(unknowns[a] * m, m), w.First[a]);
                ManyNumbers.Add(x2, right.AsSpan(unknowns[a] * m, m), w.Second[a]);
            }

            for (int j = 0; j < m; j++)
            {
                p1[j] = moved.WeightedFirst[j] - (part.R11 * x1[j] + part.R12 * x2[j]);
                p2[j] = moved.WeightedSecond[j] - (part.R12 * x1[j] + part.R22 * x2[j]);
            }

            for (int k = 0; k < m; k++)
            {
                int block = directions[k].Block, unit = block < factors ? _design.UnitOf[block][i] : i;
                for (int j = 0; j < m && unit >= 0; j++)
                {
                    sums[k][2 * unit] += covariance[j, k] * p1[j];
                    sums[k][2 * unit + 1] += covariance[j, k] * p2[j];
                }
            }
        }

        (double First, double Second)[] response = new (double, double)[g.Length];
        for (int i = 0; i < g.Length; i++)
        {
            for (int k = 0; k < m; k++)
            {
                (int block, OutcomeCovariance d) = directions[k];
                int unit = block < factors ? _design.UnitOf[block][i] : i, count = block < factors ? 1 : _design.Records[i].Count;
                if (unit < 0)
                    continue;
                double s1 = sums[k][2 * unit] / count, s2 = sums[k][2 * unit + 1] / count;
                response[i].First += d.First * s1 + d.Cross * s2;
                response[i].Second += d.Cross * s1 + d.Second * s2;
            }
        }

        return response;
    }

    /// <summary>V_j g and R⁻¹ V_j g of one record after the other, in all directions.</summary>
    private sealed class Moved(MixedInformation of, (double First, double Second)[] g, Direction[] directions)
    {
        private readonly double[][] _sums = of.SumsOf(g);

        public double[] First { get; } = new double[directions.Length];

        public double[] Second { get; } = new double[directions.Length];

        public double[] WeightedFirst { get; } = new double[directions.Length];

        public double[] WeightedSecond { get; } = new double[directions.Length];

        public void To(int record)
        {
            ref readonly RecordPart part = ref of._likelihood.Parts[record];
            for (int j = 0; j < directions.Length; j++)
            {
                (int block, OutcomeCovariance d) = directions[j];
                double s1, s2;
                if (block < _sums.Length)
                {
                    int unit = 2 * of._design.UnitOf[block][record];
                    (s1, s2) = unit >= 0 ? (_sums[block][unit], _sums[block][unit + 1]) : (0, 0);
                }
                else
                {
                    (s1, s2) = (g[record].First / of._design.Records[record].Count, g[record].Second / of._design.Records[record].Count);
                }

                First[j] = d.First * s1 + d.Cross * s2;
                Second[j] = d.Cross * s1 + d.Second * s2;
                WeightedFirst[j] = part.R11 * First[j] + part.R12 * Second[j];
                WeightedSecond[j] = part.R12 * First[j] + part.R22 * Second[j];
            }
        }

        /// <summary>Adds Wᵀ R⁻¹ V_j g of a record, the directions of an unknown side by side.</summary>
        public void AddTo(double[] right, int record, RecordRows w)
        {
            To(record);
            w.Fill(of._design, of._likelihood.Loadings, record);
            int[] unknowns = of._design.PatternOf[record].Unknowns;
            for (int a = 0; a < unknowns.Length; a++)
            {
                Span<double> target = right.AsSpan(unknowns[a] * directions.Length, directions.Length);
                ManyNumbers.Add(target, WeightedFirst, w.First[a], WeightedSecond, w.Second[a]);
            }
        }
    }

    // Zᵀ g of each unit
    private double[][] SumsOf((double First, double Second)[] g)
    {
        double[][] sums = [.. _design.UnitNames.Select(u => new double[2 * u.Length])];
        for (int i = 0; i < g.Length; i++)
        {
            for (int f = 0; f < sums.Length; f++)
            {
                if (_design.UnitOf[f][i] is >= 0 and int unit)
                {
                    sums[f][2 * unit] += g[i].First;
                    sums[f][2 * unit + 1] += g[i].Second;
                }
            }
        }

        return sums;
    }

    private void AddWithin(double[,] information, Direction[] directions, Func<RecordPart, OutcomeCovariance, OutcomeCovariance, double> of)
    {
        int residual = _design.Factors.Length;
        for (int j = 0; j < directions.Length; j++)
        {
            for (int k = 0; k < directions.Length && directions[j].Block == residual; k++)
            {
                for (int i = 0; i < _design.Records.Length && directions[k].Block == residual; i++)
                {
                    if (_design.Records[i].Count > 1)
                        information[j, k] += of(_likelihood.Parts[i], directions[j].Change, directions[k].Change);
                }
            }
        }
    }

    // V_j's own part of a block: dG = dΛ Λᵀ + Λ dΛᵀ
    private Direction OfLoading(int place)
    {
        int block = place / 4, row = place % 4 / 2, column = place % 2;
        double first = _likelihood.Loadings[MixedParameters.Place(block, 0, column)];
        double second = _likelihood.Loadings[MixedParameters.Place(block, 1, column)];
        return new(block, row == 0 ? new OutcomeCovariance(2 * first, second, 0) : new OutcomeCovariance(0, first, 2 * second));
    }

    /// <summary>What standardised effects and errors make of the values, the fixed effects 0.</summary>
    /// <param name="drawn">Effects in the order of the unknowns, then two errors a record.</param>
    private (double First, double Second)[] Values(double[] drawn)
    {
        (double, double)[] values = new (double, double)[_design.Records.Length];
        RecordRows w = new();
        for (int i = 0; i < values.Length; i++)
        {
            w.Fill(_design, _likelihood.Loadings, i);
            int[] unknowns = _design.PatternOf[i].Unknowns;
            (double y1, double y2) = _likelihood.Parts[i].ErrorOf(
                drawn[_design.FixedStart + 2 * i], drawn[_design.FixedStart + 2 * i + 1]);
            for (int a = 0; a < unknowns.Length && unknowns[a] < _design.FixedStart; a++)
            {
                y1 += w.First[a] * drawn[unknowns[a]];
                y2 += w.Second[a] * drawn[unknowns[a]];
            }

            values[i] = (y1, y2);
        }

        return values;
    }

    /// <summary>P y.</summary>
    private (double First, double Second)[] Weighted((double First, double Second)[] y)
    {
        double[] right = new double[_design.Size];
        RecordRows w = new();
        for (int i = 0; i < y.Length; i++)
        {
            ref readonly RecordPart part = ref _likelihood.Parts[i];
            int[] unknowns = _design.PatternOf[i].Unknowns;
            w.Fill(_design, _likelihood.Loadings, i);
            double r1 = part.R11 * y[i].First + part.R12 * y[i].Second, r2 = part.R12 * y[i].First + part.R22 * y[i].Second;
            for (int a = 0; a < unknowns.Length; a++)
                right[unknowns[a]] += w.First[a] * r1 + w.Second[a] * r2;
        }

        double[] solved = _likelihood.Solve(right);
        (double, double)[] weighted = new (double, double)[y.Length];
        for (int i = 0; i < y.Length; i++)
        {
            ref readonly RecordPart part = ref _likelihood.Parts[i];
            w.Fill(_design, _likelihood.Loadings, i);
            (double h1, double h2) = _likelihood.Weight(i, w, solved);
            weighted[i] = (part.R11 * y[i].First + part.R12 * y[i].Second - h1, part.R12 * y[i].First + part.R22 * y[i].Second - h2);
        }

        return weighted;
    }
}
