using MathNet.Numerics.Distributions;

namespace DecayAtlas.Prediction.Validation;

/// <summary>Whether one candidate predicts unseen blocks better than another by more than chance.</summary>
/// <param name="Gain">Mean squared error of the other less that of the better one, over held-out rows.</param>
/// <param name="Lower90">90 % interval, so that the whole of it lies above 0 by chance in 5 % of cases.</param>
/// <remarks>
/// The squared errors of both are paired row by row and summed by spatial block; blocks are taken as independent, rows
/// within a block are not. The mean difference is a ratio Σd/Σn with the linearised variance of cluster sampling (Cochran
/// 1977, Sampling Techniques, section 9A, from memory) and a t interval on blocks − 1 degrees of freedom. That the models of
/// different folds share training rows is not in it.
/// </remarks>
public sealed record Comparison(string Better, string Than, double Gain, double Lower90, double Upper90, int Blocks)
{
    public bool IsBeyondNoise => Lower90 > 0;

    internal static Comparison Of(string better, double[] predicted, string than, double[] other, CovariateTable table, int[] blockOfRow)
    {
        int n = table.Count, blocks = blockOfRow.Max() + 1;
        double[] sums = new double[blocks], sizes = new double[blocks];
        for (int r = 0; r < n; r++)
        {
            double a = predicted[r] - table.Targets[r], b = other[r] - table.Targets[r];
            sums[blockOfRow[r]] += b * b - a * a;
            sizes[blockOfRow[r]]++;
        }
        double mean = sums.Sum() / n;
        double squares = sums.Zip(sizes, (d, size) => (d - size * mean) * (d - size * mean)).Sum();
        double half = StudentT.InvCDF(0, 1, blocks - 1, 0.95) * Math.Sqrt(blocks / (blocks - 1.0) * squares) / n;
        return new(better, than, mean, mean - half, mean + half, blocks);
    }
}
