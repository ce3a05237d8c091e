namespace DecayAtlas.Pipeline.Steps;

/// <summary>
/// Bags of sites with several retrievals -> decay curves. A bag that is set aside only since it lay shorter or longer than a standard
/// exposure is just what a curve needs, so that it takes part here and not in the site's mean k.
/// </summary>
internal static class CurveStep
{
    /// <summary>Fewer retrievals than this and no curve is looked for.</summary>
    private const int FewestRetrievals = 3;

    /// <summary>Bags whose exposures lie closer than this are of one retrieval (d; common practice, no source).</summary>
    private const int RetrievalDays = 7;

    /// <summary>The longest exposure over the shortest, below which there is no course of decay to see (common practice, no
    /// source).</summary>
    private const double LeastSpan = 2;

    public static IReadOnlyList<ReleasedCurve> Run(IReadOnlyList<Bag> bags, IReadOnlyList<Burial> burials, Verdicts verdicts)
    {
        ILookup<SeriesKey, Burial> accepted = burials.Where(b => verdicts.Of(b).Use == Use.Accepted && b.RatePerDay.Value is not null)
            .ToLookup(SeriesKey.Of);
        return
        [
            .. bags.Where(b => b.Remaining.Value is not null && DaysOf(b) > 0)
                .GroupBy(b => new SeriesKey(b.SiteKey, b.Header.Campaign, b.Row.Treatment))
                // most sites have one exposure: they are passed over before any verdict is asked for
                .Where(g => IsSeries([.. g.Select(DaysOf)]))
                .InOrder()
                .SelectMany(g => CurvesOf(
                    g.Key, [.. g.Where(b => IsFitted(verdicts.Of(b)))], [.. accepted[g.Key].Select(b => b.RatePerDay.Value!.Value)])),
        ];
    }

    private static bool IsFitted(Verdict verdict) => SeriesUse.Fits(AtlasCode.Of(verdict.Use), verdict.Because);

    private static int DaysOf(Bag bag) => bag.ExposureDays ?? 0;

    private static IEnumerable<ReleasedCurve> CurvesOf(SeriesKey key, Bag[] bags, double[] twoBagRates)
    {
        Bag[] fast = [.. bags.Where(b => b.Row.Role == LitterRole.Fast)], slow = [.. bags.Where(b => b.Row.Role == LitterRole.Slow)];
        // one basis for the whole series: its bags are compared with one another
        bool isAshFree = bags.All(b => b.Remaining.Value!.IsAshFree);
        RemainingFraction On(Bag bag) => (isAshFree ? bag.Remaining : bag.RemainingDry).Value!;
        bool hasSeries = false;
        foreach ((string litter, Bag[] own) in new[] { ("fast", fast), ("slow", slow) })
        {
            if (!IsSeries([.. own.Select(DaysOf)]))
                continue;
            hasSeries = true;
            CurvePoint[] points = [.. own.Select(b => new CurvePoint(DaysOf(b), On(b).Fraction))];
            foreach (CurveCandidate candidate in DecayCurves.Compare(points))
            {
                CurveFit? fit = candidate.Fit.Value;
                yield return Row(litter, AtlasCode.Of(candidate.Form), own, candidate.Fit.Statement, fit?.Parameters) with
                {
                    ResidualSd = fit?.ResidualSd,
                    Aicc = fit?.Aicc,
                    Weight = candidate.Weight,
                };
            }
        }

        if (!hasSeries)
            yield break;
        Answer<SharedStabilisation> joint = JointLitters.Fit(
            [.. bags.Select(b => new LitterPoint(b.Row.Role, DaysOf(b), On(b).Fraction))], HydrolysableOf(fast.Select(On)),
            HydrolysableOf(slow.Select(On)));
        JointFit? one = joint.Value?.SharedS, two = joint.Value?.SeparateS;
        yield return Joint("one-s", one, two) with { SharedStabilisationP = joint.Value?.PValue };
        yield return Joint("two-s", two, one);

        ReleasedCurve Joint(string model, JointFit? fit, JointFit? other) => Row("both", model, bags, joint.Statement, fit?.Parameters) with
        {
            ResidualSd = fit is null ? null : Math.Sqrt(fit.ResidualSumOfSquares / fit.DegreesOfFreedom),
            Aicc = fit?.Aicc,
            Weight = WeightOf(fit?.Aicc, other?.Aicc),
        };

        ReleasedCurve Row(string litter, string model, Bag[] own, Unanswered? statement, IEnumerable<FittedParameter>? parameters)
        {
            int[] days = [.. own.Select(DaysOf)];
            return (parameters ?? []).Aggregate(new ReleasedCurve
            {
                SiteKey = key.SiteKey,
                Campaign = key.Campaign,
                Treatment = key.Treatment,
                Litter = litter,
                Model = model,
                Statement = statement?.Sentence,
                Bags = days.Length,
                Retrievals = RetrievalsAmong(days),
                ShortestDays = days.DefaultIfEmpty(0).Min(),
                LongestDays = days.DefaultIfEmpty(0).Max(),
                TwoBagRatePerDay = twoBagRates.Length > 0 ? twoBagRates.Average() : null,
                TwoBagBurials = twoBagRates.Length,
            }, With);
        }
    }

    private static double? WeightOf(double? own, double? other) => own is { } a && other is { } b ? 1 / (1 + Math.Exp((a - b) / 2)) : null;

    /// <summary>Whether exposures (d) make a series: at least three retrievals, the longest at least twice the shortest.</summary>
    private static bool IsSeries(int[] days) =>
        days.Length >= FewestRetrievals && days.Max() >= LeastSpan * days.Min() && RetrievalsAmong(days) >= FewestRetrievals;

    private static int RetrievalsAmong(int[] days)
    {
        int count = 0, first = int.MinValue / 2;
        foreach (int d in days.Order())
        {
            if (d - first >= RetrievalDays)
                (count, first) = (count + 1, d);
        }

        return count;
    }

    // bags of one litter may come of several lots; their H differ by less than its uncertainty (common practice, no source)
    private static double HydrolysableOf(IEnumerable<RemainingFraction> bags) =>
        bags.Select(b => b.Hydrolysable.Value?.Fraction ?? double.NaN).DefaultIfEmpty(double.NaN).Average();

    private static ReleasedCurve With(ReleasedCurve curve, FittedParameter parameter)
    {
        ReleasedParameter released = new(parameter.Value, parameter.StandardError, parameter.Lower95, parameter.Upper95);
        return parameter.Name switch
        {
            "k" or "k1" or "k_s" => curve with { RatePerDay = released },
            "k2" => curve with { SecondRatePerDay = released },
            "r" => curve with { Rest = released },
            "p" => curve with { FasterShare = released },
            "k_f" => curve with { FastRatePerDay = released },
            "S" or "S_f" => curve with { Stabilisation = released },
            "S_s" => curve with { SlowStabilisation = released },
            _ => throw new ArgumentException($"No column is kept for the parameter {parameter.Name}.", nameof(parameter)),
        };
    }
}
