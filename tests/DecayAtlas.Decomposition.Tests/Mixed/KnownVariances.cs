namespace DecayAtlas.Decomposition.Tests.Mixed;

internal static class KnownVariances
{
    /// <summary>Standard error of a combination of fixed effects as if the variances found were known: what lme4, nlme and metafor
    /// tell.</summary>
    public static double ErrorIfKnown(this MixedFit fit, int outcome, params double[] contrast)
    {
        double sum = 0;
        for (int i = 0; i < contrast.Length; i++)
        {
            for (int j = 0; j < contrast.Length; j++)
                sum += contrast[i] * contrast[j] * fit.FixedCovariance(outcome)[i, j];
        }

        return Math.Sqrt(sum);
    }
}
