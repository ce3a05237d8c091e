using System.Runtime.Intrinsics;

namespace DecayAtlas.Decomposition.Mixed.Equations;

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
        List<int> blocks = [0];
        for (int j = 1; j < size; j++)
        {
            // the rows of the column before, but for its own
            if (columns[j - 1].Length != columns[j].Length + 1 || columns[j - 1][1] != j)
                blocks.Add(j);
        }

        Blocks = [.. blocks, size];
    }

    public int Size { get; }

    /// <summary>Where each column begins; its diagonal comes first.</summary>
    public int[] Starts { get; }

    public int[] Rows { get; }

    /// <summary>Where blocks of columns begin that have the same rows below the block, and last the size.</summary>
    public int[] Blocks { get; }

    public int NonZeros => Rows.Length;

    /// <summary>Place of an entry, row at or below the diagonal; it must be one.</summary>
    public int PlaceOf(int row, int column) =>
        Array.BinarySearch(Rows, Starts[column], Starts[column + 1] - Starts[column], row);
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
        int[] starts = _structure.Starts, rows = _structure.Rows, blocks = _structure.Blocks;
        double[] work = new double[n], l = _values;
        // blocks whose columns still have to be taken off a row wait in a list of that row
        int[] first = new int[n], next = new int[blocks.Length], at = new int[blocks.Length];
        Array.Fill(first, -1);
        for (int block = 0; block + 1 < blocks.Length; block++)
        {
            int begin = blocks[block], end = blocks[block + 1];
            for (int j = begin; j < end; j++)
            {
                int from = starts[j], to = starts[j + 1];
                Span<double> column = l.AsSpan(from, to - from);
                if (first[j] >= 0)
                {
                    for (int p = from; p < to; p++)
                        work[rows[p]] = l[p];
                    for (int k = first[j]; k >= 0;)
                    {
                        int following = next[k];
                        TakeOff(work, k, at[k]);
                        Wait(k, at[k] + 1);
                        k = following;
                    }

                    for (int p = from; p < to; p++)
                        l[p] = work[rows[p]];
                }

                for (int k = begin; k < j; k++)
                {
                    ReadOnlySpan<double> before = l.AsSpan(starts[k] + j - k, column.Length);
                    ManyNumbers.Add(column, before, -before[0]);
                }

                double pivot = column[0];
                if (!(pivot > 0) || !double.IsFinite(pivot))
                {
                    IsPositiveDefinite = false;
                    return;
                }

                double root = Math.Sqrt(pivot);
                LogDeterminant += Math.Log(pivot);
                column[0] = root;
                for (int p = 1; p < column.Length; p++)
                    column[p] /= root;
            }

            Wait(block, 0);
        }

        // place: of the rows below the block
        void Wait(int block, int place)
        {
            at[block] = place;
            int last = blocks[block + 1] - 1, p = starts[last] + 1 + place;
            if (p >= starts[last + 1])
                return;
            next[block] = first[rows[p]];
            first[rows[p]] = block;
        }
    }

    // two columns of a block at once, since finding the rows is most of the work
    private void TakeOff(double[] work, int block, int place)
    {
        int[] starts = _structure.Starts, rows = _structure.Rows, blocks = _structure.Blocks;
        int begin = blocks[block], end = blocks[block + 1], last = end - 1;
        ReadOnlySpan<int> below = rows.AsSpan(starts[last] + 1 + place, starts[last + 1] - starts[last] - 1 - place);
        int column = begin;
        for (; column + 1 < end; column += 2)
        {
            ReadOnlySpan<double> a = _values.AsSpan(starts[column] + end - column + place, below.Length);
            ReadOnlySpan<double> b = _values.AsSpan(starts[column + 1] + end - column - 1 + place, below.Length);
            double ofA = a[0], ofB = b[0];
            for (int i = 0; i < below.Length; i++)
                work[below[i]] -= ofA * a[i] + ofB * b[i];
        }

        if (column < end)
        {
            ReadOnlySpan<double> a = _values.AsSpan(starts[column] + end - column + place, below.Length);
            double ofA = a[0];
            for (int i = 0; i < below.Length; i++)
                work[below[i]] -= ofA * a[i];
        }
    }

    // four partial sums on every machine, so that the last digit is the same
    private static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        int i = 0;
        Vector256<double> four = Vector256<double>.Zero;
        for (; i <= a.Length - 4; i += 4)
            four += Vector256.Create(a[i..]) * Vector256.Create(b[i..]);
        double sum = four[0] + four[1] + (four[2] + four[3]);
        for (; i < a.Length; i++)
            sum += a[i] * b[i];
        return sum;
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

    /// <summary>L⁻¹ B in place, the numbers of an unknown side by side: each column as by itself, in a fraction of the time.</summary>
    public void SolveLower(Span<double> b, int columns)
    {
        int[] starts = _structure.Starts, rows = _structure.Rows;
        for (int j = 0; j < _structure.Size; j++)
        {
            Span<double> x = b.Slice(j * columns, columns);
            double diagonal = _values[starts[j]];
            for (int c = 0; c < columns; c++)
                x[c] /= diagonal;
            for (int p = starts[j] + 1; p < starts[j + 1]; p++)
                ManyNumbers.Add(b.Slice(rows[p] * columns, columns), x, -_values[p]);
        }
    }

    /// <summary>L⁻ᵀ B in place.</summary>
    public void SolveUpper(Span<double> b, int columns)
    {
        int[] starts = _structure.Starts, rows = _structure.Rows;
        for (int j = _structure.Size - 1; j >= 0; j--)
        {
            Span<double> x = b.Slice(j * columns, columns);
            for (int p = starts[j] + 1; p < starts[j + 1]; p++)
                ManyNumbers.Add(x, b.Slice(rows[p] * columns, columns), -_values[p]);
            double diagonal = _values[starts[j]];
            for (int c = 0; c < columns; c++)
                x[c] /= diagonal;
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
        int[] starts = _structure.Starts, rows = _structure.Rows, blocks = _structure.Blocks;
        double[] l = _values, z = new double[l.Length];
        // the part of M⁻¹ that the columns of a block meet, whole, those of the block last
        double[] dense = [];
        for (int block = blocks.Length - 2; block >= 0; block--)
        {
            int begin = blocks[block], end = blocks[block + 1], width = end - begin;
            ReadOnlySpan<int> below = rows.AsSpan(starts[end - 1] + 1, starts[end] - starts[end - 1] - 1);
            int many = below.Length, side = many + width;
            if (dense.Length < side * side)
                dense = new double[side * side];
            // from the last row to the first, so that a column's unknowns lie before it
            for (int b = 0; b < many; b++)
            {
                int p = starts[below[b]], placeOf = many - 1 - b;
                for (int a = b; a < many; a++)
                {
                    int row = below[a];
                    while (rows[p] < row)
                        p++;
                    dense[(many - 1 - a) * side + placeOf] = dense[placeOf * side + many - 1 - a] = z[p];
                }
            }

            double[] column = new double[side];
            for (int j = end - 1; j >= begin; j--)
            {
                int from = starts[j], length = starts[j + 1] - from - 1;
                double diagonal = l[from];
                for (int i = 0; i < length; i++)
                    column[length - 1 - i] = l[from + 1 + i];
                ReadOnlySpan<double> known = column.AsSpan(0, length);
                double total = 1 / diagonal;
                for (int i = 0; i < length; i++)
                {
                    double value = -Dot(dense.AsSpan(i * side, length), known) / diagonal;
                    dense[length * side + i] = value;
                    total -= known[i] * value;
                }

                z[from] = dense[length * side + length] = total / diagonal;
                for (int i = 0; i < length; i++)
                    z[from + length - i] = dense[i * side + length] = dense[length * side + i];
            }
        }

        return z;
    }
}
