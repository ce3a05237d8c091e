using System.Numerics;

namespace DecayAtlas.Decomposition.Mixed;

/// <summary>
/// Where the factor of a sparse symmetric matrix has numbers, found once for all matrices of one structure. Unknowns are eliminated in the
/// order of their numbers.
/// </summary>
/// <remarks>Source: elimination tree and left-looking factorisation, Davis 2006, Direct Methods for Sparse Linear Systems, chapter 4 (from
/// memory).</remarks>
internal sealed class SparseStructure
{
    /// <param name="cliques">Sets of unknowns, sorted: a set's unknowns all meet one another in the matrix.</param>
    public SparseStructure(int size, IEnumerable<int[]> cliques)
    {
        Size = size;
        // a clique enters at its first unknown; the elimination hands the rest on to the next
        List<int[]>?[] pending = new List<int[]>?[size];
        foreach (int[] clique in cliques)
            (pending[clique[0]] ??= []).Add(clique);
        int[] mark = new int[size];
        Array.Fill(mark, -1);
        Starts = new int[size + 1];
        List<int[]> columns = new(size);
        for (int j = 0; j < size; j++)
        {
            List<int> rows = [j];
            mark[j] = j;
            foreach (int[] clique in pending[j] ?? [])
            {
                foreach (int i in clique)
                {
                    if (i > j && mark[i] != j)
                    {
                        mark[i] = j;
                        rows.Add(i);
                    }
                }
            }

            pending[j] = null;
            int[] sorted = [.. rows];
            Array.Sort(sorted);
            columns.Add(sorted);
            Starts[j + 1] = checked(Starts[j] + sorted.Length);
            if (sorted.Length > 1)
                (pending[sorted[1]] ??= []).Add(sorted[1..]);
        }

        Rows = new int[Starts[size]];
        for (int j = 0; j < size; j++)
            columns[j].CopyTo(Rows, Starts[j]);
        Tail = size;
        while (Tail > 0 && Starts[Tail] - Starts[Tail - 1] == size - Tail + 1)
            Tail--;
    }

    public int Size { get; }

    /// <summary>Where each column begins; its diagonal comes first.</summary>
    public int[] Starts { get; }

    public int[] Rows { get; }

    /// <summary>The first of the last columns that are full.</summary>
    public int Tail { get; }

    public int NonZeros => Rows.Length;

    /// <summary>Place of an entry, row at or below the diagonal; it must be one.</summary>
    public int PlaceOf(int row, int column) => column >= Tail
        ? Starts[column] + row - column
        : Array.BinarySearch(Rows, Starts[column], Starts[column + 1] - Starts[column], row);
}

/// <summary>Factor L of M = L Lᵀ, solutions, and the entries of M⁻¹ where L has numbers.</summary>
/// <remarks>Source of the inverse subset: Takahashi, Fagan and Chin 1973; Erisman and Tinney 1975, Communications of the ACM 18:177-179
/// (from memory).</remarks>
internal sealed class SparseCholesky
{
    private readonly SparseStructure _structure;
    private readonly double[] _values;

    /// <param name="values">M in the places of the structure; taken over and overwritten.</param>
    public SparseCholesky(SparseStructure structure, double[] values)
    {
        _structure = structure;
        _values = values;
        Factorise();
    }

    public bool IsPositiveDefinite { get; private set; } = true;

    public double LogDeterminant { get; private set; }

    private void Factorise()
    {
        int n = _structure.Size;
        int[] starts = _structure.Starts, rows = _structure.Rows;
        double[] work = new double[n], l = _values;
        // columns that still have to be taken off a row wait in a list of that row
        int[] first = new int[n], next = new int[n], at = new int[n];
        Array.Fill(first, -1);
        for (int j = 0; j < n; j++)
        {
            int from = starts[j], to = starts[j + 1];
            for (int p = from; p < to; p++)
                work[rows[p]] = l[p];
            for (int k = first[j]; k >= 0;)
            {
                int following = next[k], begin = at[k], end = starts[k + 1];
                double factor = l[begin];
                TakeOff(work, l, rows, begin, end, factor);
                Wait(k, begin + 1, end);
                k = following;
            }

            double pivot = work[j];
            if (!(pivot > 0) || !double.IsFinite(pivot))
            {
                IsPositiveDefinite = false;
                return;
            }

            double root = Math.Sqrt(pivot);
            LogDeterminant += Math.Log(pivot);
            l[from] = root;
            work[j] = 0;
            for (int p = from + 1; p < to; p++)
            {
                l[p] = work[rows[p]] / root;
                work[rows[p]] = 0;
            }

            Wait(j, from + 1, to);
        }

        void Wait(int column, int place, int end)
        {
            at[column] = place;
            if (place >= end)
                return;
            next[column] = first[rows[place]];
            first[rows[place]] = column;
        }
    }

    // rows of one run lie side by side, and several go in one instruction
    private static void TakeOff(double[] work, double[] l, int[] rows, int begin, int end, double factor)
    {
        if (rows[end - 1] - rows[begin] != end - 1 - begin)
        {
            for (int p = begin; p < end; p++)
                work[rows[p]] -= factor * l[p];
            return;
        }

        Span<double> target = work.AsSpan(rows[begin], end - begin);
        ReadOnlySpan<double> source = l.AsSpan(begin, end - begin);
        int i = 0;
        Vector<double> many = new(factor);
        for (; i <= target.Length - Vector<double>.Count; i += Vector<double>.Count)
            (new Vector<double>(target[i..]) - many * new Vector<double>(source[i..])).CopyTo(target[i..]);
        for (; i < target.Length; i++)
            target[i] -= factor * source[i];
    }

    /// <summary>L⁻¹ b in place.</summary>
    public void SolveLower(Span<double> b)
    {
        int[] starts = _structure.Starts, rows = _structure.Rows;
        for (int j = 0; j < b.Length; j++)
        {
            double x = b[j];
            if (x == 0)
                continue;
            b[j] = x /= _values[starts[j]];
            for (int p = starts[j] + 1; p < starts[j + 1]; p++)
                b[rows[p]] -= _values[p] * x;
        }
    }

    /// <summary>L⁻ᵀ b in place.</summary>
    public void SolveUpper(Span<double> b)
    {
        int[] starts = _structure.Starts, rows = _structure.Rows;
        for (int j = b.Length - 1; j >= 0; j--)
        {
            double x = b[j];
            for (int p = starts[j] + 1; p < starts[j + 1]; p++)
                x -= _values[p] * b[rows[p]];
            b[j] = x / _values[starts[j]];
        }
    }

    /// <summary>M⁻¹ in the places of the structure.</summary>
    public double[] InverseSubset()
    {
        int n = _structure.Size, tail = _structure.Tail;
        int[] starts = _structure.Starts, rows = _structure.Rows;
        double[] l = _values, z = new double[l.Length], sums = new double[n];
        for (int j = n - 1; j >= 0; j--)
        {
            int from = starts[j], to = starts[j + 1];
            double diagonal = l[from];
            for (int a = from + 1; a < to; a++)
            {
                // the entries of column k = rows[a] in the rows of column j from k on
                int k = rows[a], p = starts[k];
                double ofK = l[a], sum = z[p] * ofK;
                for (int b = a + 1; b < to; b++)
                {
                    int row = rows[b];
                    // a full column needs no search
                    p = k >= tail ? starts[k] + row - k : p;
                    while (rows[p] < row)
                        p++;
                    sum += z[p] * l[b];
                    sums[b - from] += z[p] * ofK;
                }

                sums[a - from] += sum;
            }

            double total = 1 / diagonal;
            for (int a = from + 1; a < to; a++)
            {
                z[a] = -sums[a - from] / diagonal;
                sums[a - from] = 0;
                total -= l[a] * z[a];
            }

            z[from] = total / diagonal;
        }

        return z;
    }
}
