using System.Globalization;
using MathNet.Numerics.Distributions;
using static DecayAtlas.Pipeline.Flags.FlagCatalogue;

namespace DecayAtlas.Pipeline.Flags;

/// <summary>What stands apart from its own replicates, and readings whose last digits are not those of a balance.</summary>
internal static class OutlierFlags
{
    /// <summary>Coverage factor for about 95 % (JCGM 100:2008, G.6.6).</summary>
    private const double Coverage = 2;

    /// <summary>Of the replicates at most one in so many is looked for as an outlier (common practice, no source).</summary>
    private const int ReplicatesPerOutlier = 5;

    /// <param name="inputs">All that is known of the contributor.</param>
    /// <param name="raised">The standing flags of the other families: a bag or burial they set aside is no measure for its neighbours.</param>
    public static IEnumerable<Flag> Raise(FlagInputs inputs, IEnumerable<Flag> raised)
    {
        HashSet<RecordKey> aside = [.. raised.Where(f => f.Severity != Severity.Note).Select(f => f.Record)];
        return Replicates(inputs.Burials.Where(b => !aside.Contains(b.Key) && !b.Bags.Any(bag => aside.Contains(bag.Key))), inputs.Options)
            .Concat(inputs.Contributions.SelectMany(c => Digits(c, inputs.Options)));
    }

    private static IEnumerable<Flag> Replicates(IEnumerable<Burial> burials, FlagOptions options)
    {
        foreach (Burial[] site in burials.GroupBy(b => (b.SiteKey, b.Header.Campaign, b.Lead.Row.Treatment)).Select(g => g.ToArray()))
        {
            IEnumerable<Finding> found = Of("ln k", LnRates(site), options)
                .Concat(Of("S", [.. site.Where(b => b.StabilisationFactor.Value is not null)
                    .Select(b => new Replicate(b, b.StabilisationFactor.Value!.Value, b.StabilisationFactor.Value.UncertaintyBag))], options));
            // one flag a burial, for the quantity that stands out further
            foreach (Finding worst in found.GroupBy(f => f.Burial.Key).Select(g => g.MaxBy(f => f.Score / f.Limit)!))
            {
                yield return ReplicateOutlier.Raise(worst.Burial.Header.ContributionId, worst.Burial.BurialId, worst.Sentence, worst.Score, worst.Limit, "1");
            }
        }
    }

    private static Replicate[] LnRates(IEnumerable<Burial> burials) =>
    [
        .. burials.Where(b => b.HasPositiveRate)
            .Select(b => (Burial: b, K: b.RatePerDay.Value!))
            .Select(x => new Replicate(x.Burial, Math.Log(x.K.Value), x.K.UncertaintyBag / x.K.Value)),
    ];

    private static IEnumerable<Finding> Of(string quantity, Replicate[] replicates, FlagOptions options)
    {
        double[] values = [.. replicates.Select(r => r.Value)];
        int n = values.Length;
        if (n < ModifiedZScore.FewestValues || ModifiedZScore.Of(values).Value is not { } scores)
            yield break;
        foreach ((int index, double score, double limit, string method) in Apart(values, scores, options.ReplicateOutlierLevel))
        {
            Replicate replicate = replicates[index];
            // a step of the balance is no outlier, however well its neighbours agree
            if (Math.Abs(replicate.Value - scores.Median) > Coverage * replicate.UncertaintyBag)
            {
                yield return new Finding(replicate.Burial, score, limit, string.Create(
                    CultureInfo.InvariantCulture,
                    $"{quantity} is {replicate.Value:0.000}, the median of the site's {n} burials is {scores.Median:0.000}: {method} {score:0.00}, limit {limit:0.00}."));
            }
        }
    }

    private static IEnumerable<(int Index, double Score, double Limit, string Method)> Apart(double[] values, ModifiedScores scores, double level)
    {
        int n = values.Length;
        if (n >= GeneralisedEsd.FewestValues)
        {
            return (GeneralisedEsd.Of(values, n / ReplicatesPerOutlier, level).Value?.Outliers ?? [])
                .Select(step => (step.Index, step.Statistic, step.Critical, "generalised ESD"));
        }

        // more than half are equal, as on a coarse balance: no cut-off is calibrated for that
        if (scores.ScaleUsed == RobustScale.MeanAbsoluteDeviation)
            return [];
        // half the level each: Grubbs' test sees one outlier with twice the power, and none of two that hide each other; the median sees both
        double cutOff = ModifiedZScore.CutOffFor(n, level / 2);
        IEnumerable<(int Index, double Score, double Limit, string Method)> apart =
            scores.Scores.Select((m, i) => (i, Math.Abs(m), cutOff, "modified z-score")).Where(x => x.Item2 > cutOff);
        return Grubbs.Of(values, level / 2).Value is { IsOutlier: true } g
            ? apart.Append((g.Index, g.Statistic, g.Critical, "Grubbs' T"))
            : apart;
    }

    private static IEnumerable<Flag> Digits(Contribution contribution, FlagOptions options)
    {
        double limit = ChiSquared.InvCDF(9, 1 - options.DigitPreferenceLevel);
        var worst = contribution.Bags
            .Where(b => b is { MassFinalGrams: not null, BalanceResolutionGrams: not null })
            .GroupBy(b => b.BalanceResolutionGrams!.Value)
            .Where(g => g.GroupBy(b => b.Role).All(role => SpreadsOverSteps(role, g.Key)))
            .Select(g => DigitPreference.Of([.. g.Select(b => b.MassFinalGrams!.Value)], g.Key).Value)
            .MaxBy(digits => digits?.ChiSquare);
        if (worst is not null && worst.ChiSquare > limit)
        {
            yield return DigitPreferred.Raise(contribution.Header.ContributionId, contribution.Header.ContributionId, string.Create(
                CultureInfo.InvariantCulture,
                $"Of {worst.Counts.Sum()} final masses {worst.ShareOfZeroAndFive:0%} end in 0 or 5, and chance gives 20%: chi-square {worst.ChiSquare:0.0}, limit {limit:0.0}; Cramer's V {worst.CramersV:0.00}."),
                worst.ChiSquare, limit, "1");
        }
    }

    /// <summary>Whether the litter's final masses range over 20 steps of the balance or more; else their last digits need not be uniform.</summary>
    private static bool SpreadsOverSteps(IEnumerable<BagRow> bags, double resolution) =>
        Math.Round((bags.Max(b => b.MassFinalGrams!.Value) - bags.Min(b => b.MassFinalGrams!.Value)) / resolution) >= 20;

    private readonly record struct Replicate(Burial Burial, double Value, double UncertaintyBag);

    private sealed record Finding(Burial Burial, double Score, double Limit, string Sentence);
}
