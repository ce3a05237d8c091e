namespace DecayAtlas.Prediction.Tests;

/// <summary>Invented sites with a known response, so that what a model recovers can be compared with the truth.</summary>
internal static class InventedSites
{
    public static readonly CovariateInfo[] SixCovariates =
    [
        new("temperature", "degC", "Mean temperature"), new("moisture", "1", "Soil moisture"), new("acidity", "pH", "Soil pH"),
        new("clay", "percent", "Clay"), new("noise_a", "1", "Unrelated A"), new("noise_b", "1", "Unrelated B"),
    ];

    /// <summary>Covariates uniform in 0..1 times their index-based span; ln k = response(covariates) + normal noise.</summary>
    public static TrainingSet Make(int rows, Func<double[], double> response, double noise, int seed = 7, int covariates = 6,
        double spanDegrees = 8)
    {
        Random random = new(seed);
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        List<TrainingRow> list = new();
        for (int i = 0; i < rows; i++)
        {
            double[] x = Enumerable.Range(0, covariates).Select(c => random.NextDouble() * (c + 1) * 2).ToArray();
            // Every fourth row is the second campaign of the site before it.
            bool returning = i % 4 == 3;
            TrainingRow? before = list.LastOrDefault();
            list.Add(new(
                returning ? before!.SiteKey : $"site-{i:0000}",
                returning ? "second" : "first",
                returning ? before!.LatitudeDegrees : 40 + random.NextDouble() * spanDegrees,
                returning ? before!.LongitudeDegrees : -5 + random.NextDouble() * spanDegrees,
                response(x) + noise * Normal(),
                0.5 + random.NextDouble(),
                new DateOnly(2021, 6, 1).AddDays(i % 20),
                new DateOnly(2021, 9, 1).AddDays(i % 20),
                x));
        }
        return new(SixCovariates[..covariates], list, "release-test", 3);
    }

    /// <summary>A linear truth: ln k = −4.2 + 0.4 x0 − 0.15 x1 + 0.05 x2.</summary>
    public static double LinearTruth(double[] x) => -4.2 + 0.4 * x[0] - 0.15 * x[1] + 0.05 * x[2];

    /// <summary>A response with an optimum and an interaction, which no line can follow.</summary>
    public static double CurvedTruth(double[] x) =>
        -4 + 1.2 * Math.Exp(-4 * (x[0] - 1) * (x[0] - 1)) + (x[1] > 2 ? 0.8 : -0.4) * (x[0] > 0.8 ? 1 : -0.3);
}
