using MathNet.Numerics.Distributions;

namespace DecayAtlas.Decomposition.Spatial;

/// <summary>How much the values of neighbours resemble each other: 1 where they are alike, near 0 where they are not.</summary>
/// <param name="Pairs">Pairs of neighbours.</param>
/// <param name="Expected">-1/(n - 1), where values lie as by lot.</param>
/// <param name="PValue">Two-sided, where values lie as by lot.</param>
public sealed record MoransI(int Values, int Pairs, double Value, double Expected, double PValue)
{
    /// <param name="neighbours">Each pair once, by the places of its values.</param>
    /// <remarks>I = n/(2 m) · 2 Σ z_i z_j / Σ z², m pairs of weight 1; normal approximation with the variance of independent normal values:
    /// Cliff and Ord 1981, Spatial Processes, 1.5 (from memory).</remarks>
    public static Answer<MoransI> Of(IReadOnlyList<double> values, IReadOnlyList<(int First, int Second)> neighbours)
    {
        int n = values.Count, m = neighbours.Count;
        if (n < 4)
            return Unanswered.TooFew("values", n, 4);
        if (m == 0)
            return new Unanswered("No value has a neighbour.");
        double mean = values.Average(), squares = values.Sum(v => (v - mean) * (v - mean));
        if (!(squares > 0))
            return Unanswered.NoScatter("values");
        double[] degree = new double[n];
        foreach ((int i, int j) in neighbours)
        {
            degree[i]++;
            degree[j]++;
        }

        double i2 = n / (double)m * neighbours.Sum(p => (values[p.First] - mean) * (values[p.Second] - mean)) / squares;
        double s0 = 2.0 * m, s1 = 4.0 * m, s2 = 4 * degree.Sum(d => d * d), expected = -1.0 / (n - 1);
        double variance = ((double)n * n * s1 - n * s2 + 3 * s0 * s0) / (((double)n * n - 1) * s0 * s0) - expected * expected;
        double p = variance > 0 ? 2 * Normal.CDF(0, 1, -Math.Abs(i2 - expected) / Math.Sqrt(variance)) : 1;
        return new MoransI(n, m, i2, expected, p);
    }
}
