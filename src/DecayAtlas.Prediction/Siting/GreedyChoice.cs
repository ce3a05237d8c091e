namespace DecayAtlas.Prediction.Siting;

/// <summary>Chooses places one by one, each the one that lowers the variances of the means most after those before it.</summary>
/// <remarks>Greedy choice of sensors: Krause, Singh and Guestrin 2008, Journal of Machine Learning Research 9:235-284 (from memory; their
/// gain is another one, and their bound does not carry over). After each choice all covariances are conditioned on it, as rows of a
/// Cholesky decomposition.</remarks>
internal static class GreedyChoice
{
    /// <param name="apartMetres">Places nearer than this to a chosen one are passed over.</param>
    /// <returns>At most so many as asked for, the best first; of equals the first in the list.</returns>
    public static int[] Of(SiteCovariance covariance, int count, double apartMetres)
    {
        int places = covariance.Places.Count, means = covariance.Means;
        bool[] isFree = [.. Enumerable.Repeat(true, places)];
        double[] left = [.. Enumerable.Range(0, places).Select(c => covariance.Of(c, c))];
        double[][] with =
            [.. Enumerable.Range(0, means).Select(m => Enumerable.Range(0, places).Select(c => covariance.WithMean(c, m)).ToArray())];
        List<double[]> rows = [];
        List<int> chosen = [];
        while (chosen.Count < count && Best() is >= 0 and var best)
        {
            double[] row = [.. Enumerable.Range(0, places).Select(c => covariance.Of(c, best))];
            foreach (double[] earlier in rows)
            {
                double at = earlier[best];
                for (int c = 0; c < places; c++)
                    row[c] -= earlier[c] * at;
            }
            double root = Math.Sqrt(left[best]);
            for (int c = 0; c < places; c++)
                row[c] /= root;
            foreach (double[] ofMean in with)
            {
                double told = ofMean[best] / root;
                for (int c = 0; c < places; c++)
                    ofMean[c] -= told * row[c];
            }
            for (int c = 0; c < places; c++)
            {
                left[c] -= row[c] * row[c];
                isFree[c] &= c != best && covariance.Places[c].GroundDistanceMetres(covariance.Places[best]) >= apartMetres;
            }
            rows.Add(row);
            chosen.Add(best);
        }
        return [.. chosen];

        int Best()
        {
            (int at, double most) = (-1, 0);
            for (int c = 0; c < places; c++)
            {
                double gain = isFree[c] && left[c] > 0 ? with.Sum(w => w[c] * w[c]) / left[c] : 0;
                if (gain > most)
                    (at, most) = (c, gain);
            }
            return at;
        }
    }
}
