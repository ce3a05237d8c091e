using MathNet.Numerics.LinearAlgebra;

namespace DecayAtlas.Prediction.Siting;

/// <summary>What sites at some places would leave of the variance of the means, as far as sites lower it.</summary>
/// <remarks>
/// Of a hundred members the best of a thousand places looks good by chance. So places are chosen, and what is learnt at them is weighed, by
/// four fifths of the pairs, and what that leaves is told by the last fifth, each fifth in its turn (cross-validation of the whole
/// choice): a variance that nothing was fitted to.
/// </remarks>
internal static class SiteGain
{
    /// <summary>Two in each fold, so that it has a variance.</summary>
    public const int FewestPairs = 2 * Folds;

    private const int Folds = 5;

    /// <param name="choose">Chooses places in order, knowing the covariances it is given and no others.</param>
    /// <returns>Shares of the variance that are left after the first 0, 1, 2 ... places.</returns>
    public static double[] SharesLeft(SiteEnsemble ensemble, Func<SiteCovariance, int[]> choose)
    {
        List<double[]> variances = [];
        for (int fold = 0; fold < Folds; fold++)
        {
            int[] all = [.. Enumerable.Range(0, ensemble.Pairs)];
            SiteCovariance known = new(ensemble, [.. all.Where(p => p % Folds != fold)]);
            variances.Add(VariancesLeft(known, new(ensemble, [.. all.Where(p => p % Folds == fold)]), choose(known)));
        }
        int steps = variances.Min(v => v.Length);
        double first = variances.Sum(v => v[0]);
        return [.. Enumerable.Range(0, steps).Select(n => first > 0 ? variances.Sum(v => v[n]) / first : 1)];
    }

    /// <summary>Variances of the means, summed, after the first 0, 1, 2 ... places, as seen by other members than those that the weights of
    /// what is measured there come from.</summary>
    internal static double[] VariancesLeft(SiteCovariance known, SiteCovariance others, int[] order)
    {
        int n = order.Length, means = known.Means;
        double[] variances = new double[n + 1];
        double[,] left = new double[others.Deviates, means];
        for (int p = 0; p < others.Deviates; p++)
        {
            for (int m = 0; m < means; m++)
                left[p, m] = others.OfMean(p, m);
        }
        variances[0] = left.Cast<double>().Sum(x => x * x) + known.AroundMeans;
        if (n == 0)
            return variances;
        Matrix<double> inverse = Matrix<double>.Build.Dense(n, n, (i, j) => known.Of(order[i], order[j])).Cholesky().Factor.Inverse();
        Matrix<double> weights = inverse * Matrix<double>.Build.Dense(n, means, (i, m) => known.WithMean(order[i], m));
        Matrix<double> seen = inverse * Matrix<double>.Build.Dense(n, others.Deviates, (i, p) => others.AtPlace(p, order[i]));
        Matrix<double> noise =
            inverse * Matrix<double>.Build.Dense(n, n, (i, j) => others.Noise(order[i], order[j])) * inverse.Transpose();
        Matrix<double> around = inverse * Matrix<double>.Build.Dense(n, means, (i, m) => known.AroundWithMean(order[i], m));
        double ofPlaces = known.AroundMeans;
        for (int step = 0; step < n; step++)
        {
            double ofMembers = 0;
            for (int m = 0; m < means; m++)
            {
                double weight = weights[step, m];
                ofPlaces += weight * (weight * noise[step, step] - 2 * around[step, m]);
                for (int i = 0; i < step; i++)
                    ofPlaces += 2 * weight * weights[i, m] * noise[i, step];
                for (int p = 0; p < others.Deviates; p++)
                {
                    left[p, m] -= weight * seen[step, p];
                    ofMembers += left[p, m] * left[p, m];
                }
            }
            variances[step + 1] = ofMembers + ofPlaces;
        }
        return variances;
    }
}
