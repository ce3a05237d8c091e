using System.Globalization;
using DecayAtlas.Atlas.Records;
using DecayAtlas.Atlas.Storage;
using DecayAtlas.Decomposition;
using DecayAtlas.Decomposition.Curves;

namespace DecayAtlas.Pipeline.Answers;

/// <summary>Asks how far the two-bag k agrees with the k of a fitted curve, over the series of a release.</summary>
public static class ShortcutQuestion
{
    /// <summary>The curve's k is a reference only where its interval is narrower than this ratio of its ends: a factor of 2 either way (common practice, no source).</summary>
    private const double WidestReference = 4;

    /// <summary>The series in which both are known: k two-bag, k of the asymptotic curve of the slow litter (d⁻¹).</summary>
    public static IReadOnlyList<MeasuredPair> PairsOf(ParquetColumns curves)
    {
        string?[] litters = curves.Text("litter"), models = curves.Text("model");
        double?[] rates = curves.Number("k_per_day"), lower = curves.Number("k_lower95_per_day"), upper = curves.Number("k_upper95_per_day"), twoBag = curves.Number("two_bag_k_per_day");
        return
        [
            .. Enumerable.Range(0, litters.Length)
                .Where(i => litters[i] == "slow" && models[i] == "asymptotic" && twoBag[i] > 0 && rates[i] > 0 && lower[i] > 0 && upper[i] / lower[i] <= WidestReference)
                .Select(i => new MeasuredPair(twoBag[i]!.Value, rates[i]!.Value)),
        ];
    }

    public static AgreementRow Ask(IReadOnlyList<MeasuredPair> pairs)
    {
        Answer<AgreementLimits> answer = Agreement.Of(pairs, AgreementScale.LogRatio);
        if (answer.Value is not { } a)
        {
            return new AgreementRow(pairs.Count, null, null, null, null, null, null, null, null, null,
                $"The two-bag k can't be held against fitted curves: {pairs.Count} series have both. {answer.Statement!.Sentence}");
        }

        CorrectedRate unit = CorrectedRate.Offer(1, a).Value!;
        double ratio = Math.Exp(a.Bias), lower = Math.Exp(a.BiasLower95), upper = Math.Exp(a.BiasUpper95);
        string verdict = lower > 1 ? "The shortcut reads high" : upper < 1 ? "The shortcut reads low" : "No bias of the shortcut shows";
        string trend = Math.Abs(a.TrendCorrelation) > 0.5 ? " The ratio changes with the rate, so that one correction for all would mislead." : "";
        return new AgreementRow(
            a.Pairs, ratio, lower, upper, Math.Exp(a.LowerLimit), Math.Exp(a.UpperLimit), a.TrendCorrelation,
            unit.CorrectedRatePerDay, unit.Lower95, unit.Upper95,
            string.Create(CultureInfo.InvariantCulture,
                $"{verdict}: over {a.Pairs} series the two-bag k is {ratio:0.00} times the k of the fitted curve (95 % interval {lower:0.00} to {upper:0.00}); for a single series the limits of agreement are {Math.Exp(a.LowerLimit):0.00} and {Math.Exp(a.UpperLimit):0.00}{(a.Pairs < 30 ? ", rough with so few series" : "")}.{trend}"));
    }
}
