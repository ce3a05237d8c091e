namespace DecayAtlas.Decomposition.Outliers;

/// <summary>Robust mean and standard deviation.</summary>
public sealed record RobustMean(double Mean, double Sd);

/// <summary>
/// Robust mean and standard deviation by Algorithm A of ISO 13528:2015, annex C.3 (Huber's proposal 2; Analytical Methods Committee 1989,
/// Analyst 114:1693-1697).
/// </summary>
/// <remarks>Values beyond 1.5 s* of the mean are drawn in to that distance, mean and <c>s* = 1.134 s</c> taken anew, until both settle. The
/// factor is 1/√β, β the variance of a normal value drawn in at 1.5 (the standard rounds it to 1.134).</remarks>
public static class RobustLocation
{
    private const double DrawnIn = 1.5;
    private const double Consistency = 1.133392655462487;    // 1/√0.7784652161744701

    public static Answer<RobustMean> Of(IReadOnlyList<double> values)
    {
        if (values.Any(v => !double.IsFinite(v)))
            return Unanswered.NotFinite("values");
        int n = values.Count;
        if (n < 3)
            return Unanswered.TooFew("values", n, 3);
        double[] sorted = [.. values.Order()];
        double mean = ModifiedZScore.Median(sorted);
        double sd = 1.4826 * ModifiedZScore.Median([.. sorted.Select(v => Math.Abs(v - mean))]);
        if (!(sd > 0))
            return new Unanswered("More than half of the values are equal: there is no robust scatter.");
        for (int i = 0; i < 1000; i++)
        {
            double low = mean - DrawnIn * sd, high = mean + DrawnIn * sd;
            double[] drawn = [.. sorted.Select(v => Math.Clamp(v, low, high))];
            SampleSummary s = SampleSummary.Of(drawn)!;
            double change = Math.Abs(s.Mean - mean) + Math.Abs(Consistency * s.Sd!.Value - sd);
            (mean, sd) = (s.Mean, Consistency * s.Sd.Value);
            if (change < 1e-12 * sd)
                break;
        }

        return new RobustMean(mean, sd);
    }
}
