namespace DecayAtlas.Decomposition.Tests.Curves;

/// <summary>NIST Statistical Reference Datasets, nonlinear regression: certified estimates, standard errors and residual sums of
/// squares.</summary>
public class StatisticalReferenceData
{
    private static readonly double[] MisraX = [77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1,
        760.0];
    private static readonly double[] MisraY = [10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.40, 75.47,
        81.78];
    private static readonly double[] BoxX = [1, 2, 3, 5, 7, 10];
    private static readonly double[] BoxY = [109, 149, 149, 191, 213, 224];

    private sealed class Saturation(double[] x) : IRegression
    {
        public int Parameters => 2;

        public int Observations => x.Length;

        public double Expect(int i, ReadOnlySpan<double> b, Span<double> gradient)
        {
            double e = Math.Exp(-b[1] * x[i]);
            gradient[0] = 1 - e;
            gradient[1] = b[0] * x[i] * e;
            return b[0] * (1 - e);
        }
    }

    private sealed class Exponentials(int terms) : IRegression
    {
        public int Parameters => 2 * terms;

        public int Observations => 24;

        public double Expect(int i, ReadOnlySpan<double> b, Span<double> gradient)
        {
            double sum = 0, x = 0.05 * i;
            for (int m = 0; m < 2 * terms; m += 2)
            {
                double e = Math.Exp(-b[m + 1] * x);
                gradient[m] = e;
                gradient[m + 1] = -b[m] * x * e;
                sum += b[m] * e;
            }

            return sum;
        }
    }

    [Theory]
    [InlineData(500, 0.0001)]
    [InlineData(250, 0.0005)]
    public void Misra1a_to_nine_digits(double b1, double b2) => Certified(
        NonlinearLeastSquares.Fit(new Saturation(MisraX), MisraY, null, Unbounded(b1, b2)).Value!, 9,
        [2.3894212918E+02, 5.5015643181E-04], [2.7070075241E+00, 7.2668688436E-06], 1.2455138894E-01);

    [Theory]
    [InlineData(1, 1)]
    [InlineData(100, 0.75)]
    public void BoxBOD_to_nine_digits(double b1, double b2) => Certified(
        NonlinearLeastSquares.Fit(new Saturation(BoxX), BoxY, null, Unbounded(b1, b2)).Value!, 9,
        [2.1380940889E+02, 5.4723748542E-01], [1.2354515176E+01, 1.0455993237E-01], 1.1680088766E+03);

    // data, starts and certified values from memory; that the certified fit comes out to all digits confirms them
    [Theory]
    [InlineData(1.2, 0.3, 5.6, 5.5, 6.5, 7.6)]
    [InlineData(0.5, 0.7, 3.6, 4.2, 4, 6.3)]
    public void Lanczos3_a_sum_of_three_exponentials_to_six_digits(double b1, double b2, double b3, double b4, double b5, double b6) =>
        Certified(
        NonlinearLeastSquares.Fit(
            new Exponentials(3),
            [2.5134, 2.0443, 1.6684, 1.3664, 1.1232, 0.9269, 0.7679, 0.6389, 0.5338, 0.4479, 0.3776, 0.3197,
             0.2720, 0.2325, 0.1997, 0.1723, 0.1493, 0.1301, 0.1138, 0.1000, 0.0883, 0.0783, 0.0698, 0.0624],
            null, Unbounded(b1, b2, b3, b4, b5, b6)).Value!, 6,
        [8.6816414977E-02, 9.5498101505E-01, 8.4400777463E-01, 2.9515951832E+00, 1.5825685901E+00, 4.9863565084E+00],
        [1.7197908859E-02, 9.7041624475E-02, 4.1488663282E-02, 1.0766312506E-01, 5.8371576281E-02, 3.4436403035E-02],
        1.6117193594E-08);

    private static SearchBox Unbounded(params double[] start) => new(
        start, [.. start.Select(_ => double.NegativeInfinity)], [.. start.Select(_ => double.PositiveInfinity)]);

    private static void Certified(LeastSquaresFit fit, int digits, double[] estimates, double[] errors, double rss)
    {
        double tolerance = Math.Pow(10, -digits);
        for (int j = 0; j < estimates.Length; j++)
        {
            Assert.Equal(1, fit.Parameters[j] / estimates[j], tolerance);
            Assert.Equal(1, fit.StandardErrors[j]!.Value / errors[j], tolerance);
        }

        Assert.Equal(1, fit.ResidualSumOfSquares / rss, tolerance);
    }
}
