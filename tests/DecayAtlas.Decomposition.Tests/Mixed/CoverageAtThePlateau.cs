using System.Globalization;

namespace DecayAtlas.Decomposition.Tests.Mixed;

/// <summary>How often 95 % intervals hold the invented truth where about a twentieth of the burials is known only to be at least
/// something, and what is found where these are left out.</summary>
public class CoverageAtThePlateau
{
    /// <summary>Of ln k.</summary>
    private const double Plateau = -3.6, Slope = 0.04, Difference = 0.3, TreatedMean = -4.2;

    private static readonly string[] Asked = ["mean of the treated", "difference", "slope"];

    private static int Campaigns =>
        int.Parse(Environment.GetEnvironmentVariable("DECAYATLAS_CAMPAIGNS") ?? "48", CultureInfo.InvariantCulture);

    [Fact]
    public void Group_means_and_slopes_hold_the_truth_as_often_as_they_say_and_are_off_without_burials_at_the_plateau()
    {
        (double Share, FixedEffect[] With, FixedEffect[] Without)[] campaigns = new (double, FixedEffect[], FixedEffect[])[Campaigns];
        Parallel.For(0, campaigns.Length, seed => campaigns[seed] = Found(seed));
        double[] truths = [TreatedMean, Difference, Slope];
        double slack = 0.02 + 3 * Math.Sqrt(0.95 * 0.05 / campaigns.Length);

        Assert.InRange(campaigns.Average(c => c.Share), 0.03, 0.09);
        for (int j = 0; j < truths.Length; j++)
        {
            (double held, double bias, double spread) = Of([.. campaigns.Select(c => c.With[j])], truths[j]);
            (double heldWithout, double biasWithout, _) = Of([.. campaigns.Select(c => c.Without[j])], truths[j]);
            (_, double pull, double ofPull) =
                Of([.. campaigns.Select(c => c.Without[j] with { Value = c.Without[j].Value - c.With[j].Value })], 0);
            TestContext.Current.SendDiagnosticMessage(string.Create(CultureInfo.InvariantCulture,
                $"{Asked[j]}: {held:0.000}, bias {bias:0.0000} ± {spread:0.0000}; without {heldWithout:0.000}, {biasWithout:0.0000}"));
            Assert.True(Math.Abs(held - 0.95) < slack, $"{Asked[j]}: {held}");
            Assert.True(Math.Abs(bias) < 3.5 * spread, $"{Asked[j]}: off by {bias}");
            // what is left out lies above
            Assert.True(pull < -3.5 * ofPull, $"{Asked[j]}: off by {pull} without");
        }
    }

    private static (double Held, double Bias, double Spread) Of(FixedEffect[] effects, double truth)
    {
        double mean = effects.Average(e => e.Value), squares = effects.Sum(e => (e.Value - mean) * (e.Value - mean));
        double held = effects.Average(e => e.Lower95 <= truth && e.Upper95 >= truth ? 1.0 : 0);
        return (held, mean - truth, Math.Sqrt(squares / (effects.Length - 1) / effects.Length));
    }

    private static (double, FixedEffect[], FixedEffect[]) Found(int seed)
    {
        MixedRecord[] records = [.. new InventedCampaigns(seed).Records.Select(r =>
        {
            int site = int.Parse(r.Units[0]![1..], CultureInfo.InvariantCulture);
            double x = site * 7 % 10 - 4.5, value = r.First!.Value + Slope * x;
            MixedRecord with = r with { First = value, FixedEffects = [.. r.FixedEffects, x] };
            return value < Plateau ? with : with with { First = Plateau, FirstIsAtLeast = true };
        })];
        MixedRecord[] without = [.. records.Select(r => r.FirstIsAtLeast ? r with { First = null, FirstIsAtLeast = false } : r)
            .Where(r => r.First is not null || r.Second is not null)];
        return (records.Average(r => r.FirstIsAtLeast ? 1.0 : 0), Effects(records), Effects(without));

        FixedEffect[] Effects(MixedRecord[] of)
        {
            Answer<MixedFit> answer = MixedModel.Fit(of, InventedCampaigns.Factors, 2);
            MixedFit fit = answer.Value ?? throw new InvalidOperationException($"{seed}: {answer.Statement!.Sentence}");
            return [fit.Effect(0, [1, 1, 0]), fit.Effect(0, [0, 1, 0]), fit.Effect(0, [0, 0, 1])];
        }
    }
}
