using MathNet.Numerics.Random;

namespace DecayAtlas.Decomposition.Tests.Uncertainty;

public class RandomStreams
{
    [Fact]
    public void Bits_equal_those_of_the_published_generator()
    {
        // SplitMix64 from state 1234567 gives these five, by the authors' reference code (numbers as on Rosetta Code, from memory);
        // xoshiro256** is worked from them here by its published recurrence
        ulong[] state = [6457827717110365317, 3203168211198807973, 9817491932198370423, 4593380528125082431];
        RandomStream stream = new(1234567);
        for (int i = 0; i < 5; i++)
        {
            ulong expected = ulong.RotateLeft(state[1] * 5, 7) * 9, t = state[1] << 17;
            state[2] ^= state[0];
            state[3] ^= state[1];
            state[1] ^= state[2];
            state[0] ^= state[3];
            state[2] ^= t;
            state[3] = ulong.RotateLeft(state[3], 45);
            Assert.Equal(expected, stream.NextBits());
        }
    }

    [Fact]
    public void Uniform_numbers_equal_those_of_Math_NET()
    {
        Xoshiro256StarStar mathNet = new(42);
        RandomStream stream = new(42);
        for (int i = 0; i < 100; i++)
            Assert.Equal(mathNet.NextDouble(), stream.NextUniform());
    }

    [Fact]
    public void Indices_are_uniform_and_normal_numbers_have_normal_moments()
    {
        RandomStream stream = new(7, "moments");
        int[] counts = new int[7];
        double sum = 0, squares = 0, fourth = 0, product = 0;
        const int n = 200_000;
        for (int i = 0; i < n; i++)
        {
            counts[stream.NextIndex(7)]++;
            (double x, double y) = stream.NextNormalPair();
            sum += x + y;
            squares += x * x + y * y;
            fourth += x * x * x * x;
            product += x * y;
        }

        // chi-square, 6 degrees of freedom: 22.46 is its 99.9 % point (table)
        Assert.True(counts.Sum(c => Math.Pow(c - n / 7.0, 2) / (n / 7.0)) < 22.46);
        Assert.Equal(0, sum / (2 * n), 0.008);
        Assert.Equal(1, squares / (2 * n), 0.012);
        Assert.Equal(3, fourth / n, 0.11);
        Assert.Equal(0, product / n, 0.012);
    }

    [Fact]
    public void The_sum_of_four_rectangular_quantities_has_the_interval_of_JCGM_101()
    {
        // JCGM 101:2008, 9.2.3: four rectangular quantities of standard deviation 1; u = 2.00, 95 % interval ±3.88 (from memory;
        // by convolution the interval is 2√3 (2 - (24 · 0.025)^(1/4)) = 3.879, since P(sum > 2√3 (2 - x)) = x⁴/24 in the tail)
        RandomStream stream = new(5, "jcgm");
        double[] sums = [.. Enumerable.Range(0, 400_000)
            .Select(_ => Enumerable.Range(0, 4).Sum(_ => Math.Sqrt(12) * (stream.NextUniform() - 0.5)))];
        Assert.Equal(2.00, SampleSummary.Of(sums)!.Sd!.Value, 0.01);
        Array.Sort(sums);
        Assert.Equal(-3.88, sums[10_000], 0.025);
        Assert.Equal(3.88, sums[390_000], 0.025);
    }

    [Fact]
    public void The_sum_of_four_normal_quantities_has_the_interval_of_JCGM_101()
    {
        // JCGM 101:2008, 9.2.2: four standard normal quantities; u = 2.00, 95 % interval ±3.92 (from memory; it is 2 × 1.960)
        RandomStream stream = new(6, "jcgm");
        double[] sums = new double[400_000];
        for (int i = 0; i < sums.Length; i++)
        {
            (double a, double b) = stream.NextNormalPair();
            (double c, double d) = stream.NextNormalPair();
            sums[i] = a + b + c + d;
        }

        Assert.Equal(2.00, SampleSummary.Of(sums)!.Sd!.Value, 0.01);
        Array.Sort(sums);
        Assert.Equal(-3.92, sums[10_000], 0.03);
        Assert.Equal(3.92, sums[390_000], 0.03);
    }

    [Fact]
    public void The_calibration_of_a_mass_has_the_uncertainty_that_JCGM_101_gives_by_drawing()
    {
        // JCGM 101:2008, 9.3, table 6: 1.2341 mg, u = 0.0754 mg, 95 % interval 1.0834 to 1.3825 mg (from memory; NumPy with
        // 2 million draws gives 1.2341, 0.0754, 1.085 to 1.384). First order gives 0.0539 mg, since it sees no product of
        // two quantities whose slopes are zero at their means.
        RandomStream stream = new(9, "mass");
        double[] masses = new double[400_000];
        for (int i = 0; i < masses.Length; i++)
        {
            (double first, double second) = stream.NextNormalPair();
            double reference = 100_000 + 0.050 * first, balance = 1.234 + 0.020 * second;
            double air = 1.10 + 0.20 * stream.NextUniform();
            double weight = 7000 + 2000 * stream.NextUniform(), standard = 7950 + 100 * stream.NextUniform();
            masses[i] = (reference + balance) * (1 + (air - 1.2) * (1 / weight - 1 / standard)) - 100_000;
        }

        SampleSummary summary = SampleSummary.Of(masses)!;
        Assert.Equal(1.2341, summary.Mean, 0.0006);
        Assert.Equal(0.0754, summary.Sd!.Value, 0.0004);
        Array.Sort(masses);
        Assert.Equal(1.0834, masses[10_000], 0.003);
        Assert.Equal(1.3825, masses[390_000], 0.003);
    }
}
