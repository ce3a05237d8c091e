using MathNet.Numerics.Distributions;

namespace DecayAtlas.Prediction.Trained;

/// <summary>Draws the errors of lots and batches anew: what they add to the target of each row.</summary>
/// <remarks>
/// Blocks of sites that are drawn anew show by themselves what a batch does that lies in one of them. With p the share of a quantity's
/// weight that a block holds, drawing blocks shows Σp² - 1/B of its variance, B the number of blocks; the rest is drawn here: all of a lot
/// that every site shares, and next to nothing of a batch of one block.
/// </remarks>
internal sealed class SharedDraws
{
    private readonly (int Row, double Effect)[][] _effects;
    private readonly bool[] _isRange;

    public SharedDraws(CovariateTable table, int[] blockOf, int blocks)
    {
        ILookup<string, (int Row, SharedError Error)> quantities = Enumerable.Range(0, table.Count)
            .SelectMany(r => table.Rows[r].Errors.Shared.Select(s => (Row: r, Error: s)))
            .ToLookup(x => x.Error.Quantity, StringComparer.Ordinal);
        string[] names = [.. quantities.Select(q => q.Key).Order(StringComparer.Ordinal)];
        _isRange = [.. names.Select(n => quantities[n].First().Error.IsRange)];
        _effects = [.. names.Select(n => Unshown(quantities[n]))];

        (int, double)[] Unshown(IEnumerable<(int Row, SharedError Error)> rows)
        {
            double[] ofBlock = new double[blocks];
            foreach ((int row, SharedError error) in rows)
                ofBlock[blockOf[row]] += table.Weights[row] * Math.Abs(error.OnTarget);
            double all = ofBlock.Sum();
            double shown = all > 0 ? ofBlock.Sum(b => b * b) / (all * all) - 1.0 / blocks : 1;
            double factor = Math.Sqrt(Math.Clamp(1 - shown, 0, 1));
            return [.. rows.Select(x => (x.Row, factor * x.Error.OnTarget))];
        }
    }

    public double[] Draw(int rows, Random random)
    {
        double[] shifts = new double[rows];
        for (int q = 0; q < _effects.Length; q++)
        {
            // a rectangle of standard deviation 1 reaches to the root of 3
            double error = _isRange[q] ? Math.Sqrt(3) * (2 * random.NextDouble() - 1) : Normal.Sample(random, 0, 1);
            foreach ((int row, double effect) in _effects[q])
                shifts[row] += error * effect;
        }
        return shifts;
    }
}
