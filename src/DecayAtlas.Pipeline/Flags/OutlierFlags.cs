using MathNet.Numerics.Distributions;
using static DecayAtlas.Atlas.Records.Severity;
using static DecayAtlas.Pipeline.Flags.FlagFamily;

namespace DecayAtlas.Pipeline.Flags;

/// <summary>What stands apart from its own replicates, and readings whose last digits are not those of a balance.</summary>
internal static class OutlierFlags
{
    public static IReadOnlyList<FlagDefinition> All => [new ReplicateOutlier(), new DigitPreferred()];
}

internal sealed record ReplicateOutlier() : FlagDefinition(
    Outlier, "replicate-outlier", Suspect, RecordKind.Burial,
    "k or S of the burial stands far apart from the other burials of the same site, campaign and treatment. Swapped bags, lost "
    + "litter or a slip of the pen are the usual causes; a wet hollow or an ant nest are real, and a curator may let them stand.",
    "ln k or S, among the burials of the site, campaign and treatment that no other flag on them or their bags sets aside: 5 to 14 "
    + "burials, |modified z-score| above its simulated cut-off for n, or Grubbs' T above its critical value (ASTM E178), each at half "
    + "the level, for the one sees two outliers and the other sees one more sharply; 15 and more, generalised ESD, at most one in five "
    + "looked for; and further from the median than 2 u of the burial's own weighing. Fewer than 5 burials are never judged, nor fewer "
    + "than 15 of which more than half agree to the last digit. replicate_outlier_level is the share of sound sites at which either "
    + "quantity would be flagged by chance.",
    "Check both bags' masses, and that they were not swapped. If all is right, ask the curator to overrule the flag: a true extreme "
    + "belongs to the site.")
{
    /// <summary>Of the replicates at most one in so many is looked for as an outlier (common practice, no source).</summary>
    private const int ReplicatesPerOutlier = 5;

    [Setting("replicate_outlier_level", "0.01 or 0.05", "Share of sound sites at which chance would flag a replicate of a quantity",
        OneOf = [0.01, 0.05])]
    public double ReplicateOutlierLevel { get; init; } = 0.01;

    internal override IEnumerable<Flag> RaiseAmong(FlagInputs inputs, IReadOnlySet<RecordKey> aside)
    {
        IEnumerable<Burial> burials = inputs.Burials.Where(b => !aside.Contains(b.Key) && !b.Bags.Any(bag => aside.Contains(bag.Key)));
        foreach (Burial[] site in burials.GroupBy(b => (b.SiteKey, b.Header.Campaign, b.Lead.Row.Treatment)).Select(g => g.ToArray()))
        {
            IEnumerable<(Burial Burial, Grounds Grounds)> found = Of("ln k", [.. site.Where(b => b.HasPositiveRate)
                    .Select(b => (Burial: b, K: b.RatePerDay.Value!))
                    .Select(x => new Replicate(x.Burial, Math.Log(x.K.Value), x.K.UncertaintyBag / x.K.Value))])
                .Concat(Of("S", [.. site.Where(b => b.StabilisationFactor.Value is not null)
                    .Select(b => new Replicate(b, b.StabilisationFactor.Value!.Value, b.StabilisationFactor.Value.UncertaintyBag))]));
            // one flag a burial, for the quantity that stands out further
            foreach ((Burial burial, Grounds worst) in found.GroupBy(f => f.Burial.Key)
                .Select(g => g.MaxBy(f => f.Grounds.Measured / f.Grounds.Limit)))
            {
                yield return FlagOn(burial.Header.ContributionId, burial.BurialId, worst);
            }
        }
    }

    private IEnumerable<(Burial Burial, Grounds Grounds)> Of(string quantity, Replicate[] replicates)
    {
        double[] values = [.. replicates.Select(r => r.Value)];
        int n = values.Length;
        if (n < ModifiedZScore.FewestValues || ModifiedZScore.Of(values).Value is not { } scores)
            yield break;
        foreach ((int index, double score, double limit, string method) in Apart(values, scores, ReplicateOutlierLevel))
        {
            Replicate replicate = replicates[index];
            // a step of the balance is no outlier, however well its neighbours agree
            if (Math.Abs(replicate.Value - scores.Median) > PhysicalFlags.Coverage * replicate.UncertaintyBag)
            {
                yield return (replicate.Burial, new(string.Create(InvariantCulture,
                    $"{quantity} is {replicate.Value:0.000}, the median of the site's {n} burials is {scores.Median:0.000}: {method} "
                    + $"{score:0.00}, limit {limit:0.00}."), score, limit, "1"));
            }
        }
    }

    private static IEnumerable<(int Index, double Score, double Limit, string Method)> Apart(double[] values, ModifiedScores scores,
        double level)
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
        // half the level each: Grubbs' test sees one outlier with twice the power, and none of two that hide each other; the median sees
        // both
        double cutOff = ModifiedZScore.CutOffFor(n, level / 2);
        IEnumerable<(int Index, double Score, double Limit, string Method)> apart =
            scores.Scores.Select((m, i) => (i, Math.Abs(m), cutOff, "modified z-score")).Where(x => x.Item2 > cutOff);
        return Grubbs.Of(values, level / 2).Value is { IsOutlier: true } g
            ? apart.Append((g.Index, g.Statistic, g.Critical, "Grubbs' T"))
            : apart;
    }

    private readonly record struct Replicate(Burial Burial, double Value, double UncertaintyBag);
}

internal sealed record DigitPreferred() : FlagDefinition(
    Outlier, "digit-preference", Note, RecordKind.Contribution,
    "The last digits of the final masses do not come up equally often. Readings were rounded by eye, the balance reads in coarser "
    + "steps than stated, or numbers were made up.",
    "Pearson's chi-square of the last digits against equal shares, 9 degrees of freedom, P < digit_preference_level; for at least 50 "
    + "final masses read to a stated power of ten, each litter's ranging over 20 steps of the balance or more.",
    "Check what the balance shows, and send its true resolution; send masses as read.")
{
    [Setting("digit_preference_level", "a probability above 0 and at most 0.05",
        "Share of sound contributions whose last digits chance would flag", Above = 0, Most = 0.05)]
    public double DigitPreferenceLevel { get; init; } = 0.001;

    internal override IEnumerable<Flag> Raise(FlagInputs inputs) => inputs.Contributions.SelectMany(Judge);

    private IEnumerable<Flag> Judge(Contribution contribution)
    {
        double limit = ChiSquared.InvCDF(9, 1 - DigitPreferenceLevel);
        LastDigits? worst = contribution.Bags
            .Where(b => b is { MassFinalGrams: not null, BalanceResolutionGrams: not null })
            .GroupBy(b => b.BalanceResolutionGrams!.Value)
            .Where(g => g.GroupBy(b => b.Role).All(role => SpreadsOverSteps(role, g.Key)))
            .Select(g => DigitPreference.Of([.. g.Select(b => b.MassFinalGrams!.Value)], g.Key).Value)
            .MaxBy(digits => digits?.ChiSquare);
        if (worst is not null && worst.ChiSquare > limit)
        {
            yield return FlagOn(contribution.Header.ContributionId, contribution.Header.ContributionId, new(string.Create(InvariantCulture,
                $"Of {worst.Counts.Sum()} final masses {worst.ShareOfZeroAndFive:0%} end in 0 or 5, and chance gives 20%: chi-square "
                + $"{worst.ChiSquare:0.0}, limit {limit:0.0}; Cramer's V {worst.CramersV:0.00}."),
                worst.ChiSquare, limit, "1"));
        }
    }

    /// <summary>Whether the litter's final masses range over 20 steps of the balance or more; else their last digits need not be
    /// uniform.</summary>
    private static bool SpreadsOverSteps(IEnumerable<BagRow> bags, double resolution) =>
        Math.Round((bags.Max(b => b.MassFinalGrams!.Value) - bags.Min(b => b.MassFinalGrams!.Value)) / resolution) >= 20;
}
