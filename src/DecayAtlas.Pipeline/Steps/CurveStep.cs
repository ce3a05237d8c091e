namespace DecayAtlas.Pipeline.Steps;

/// <summary>
/// Bags of sites with several retrievals -> decay curves. A bag that is set aside only since it lay shorter or longer than a standard
/// exposure is just what a curve needs, so that it takes part here and not in the site's mean k.
/// </summary>
internal static class CurveStep
{
    public static IReadOnlyList<ReleasedCurve> Run(IReadOnlyList<Bag> bags, IReadOnlyList<Burial> burials, Verdicts verdicts)
    {
        ILookup<SeriesKey, TwoBagRate> accepted = burials
            .Where(b => verdicts.Of(b).Use == Use.Accepted && b.RatePerDay.Value is not null)
            .ToLookup(SeriesKey.Of, b => new TwoBagRate(b.ExposureDays!.Value, b.RatePerDay.Value!.Value));
        return
        [
            .. bags.Where(b => b.Remaining.Value is not null && DaysOf(b) > 0)
                .GroupBy(b => new SeriesKey(b.SiteKey, b.Header.Campaign, b.Row.Treatment))
                // most sites have one exposure: they are passed over before any verdict is asked for
                .Where(g => SeriesUse.IsSeries([.. g.Select(DaysOf)]))
                .InOrder()
                .SelectMany(g => CurvesOf(
                    g.Key, [.. g.Where(b => IsFitted(verdicts.Of(b)))], [.. accepted[g.Key]])),
        ];
    }

    private static bool IsFitted(Verdict verdict) => SeriesUse.Fits(AtlasCode.Of(verdict.Use), verdict.Because);

    private static int DaysOf(Bag bag) => bag.ExposureDays ?? 0;

    /// <summary>k of an accepted burial (d⁻¹), and how long it lay.</summary>
    private readonly record struct TwoBagRate(int Days, double RatePerDay);

    private static IEnumerable<ReleasedCurve> CurvesOf(SeriesKey key, Bag[] bags, TwoBagRate[] twoBagRates)
    {
        Bag[] fast = [.. bags.Where(b => b.Row.Role == LitterRole.Fast)], slow = [.. bags.Where(b => b.Row.Role == LitterRole.Slow)];
        // one basis for the whole series: its bags are compared with one another
        bool isAshFree = bags.All(b => b.Remaining.Value!.IsAshFree);
        RemainingFraction On(Bag bag) => (isAshFree ? bag.Remaining : bag.RemainingDry).Value!;
        bool hasSeries = false;
        foreach ((string litter, Bag[] own) in new[] { ("fast", fast), ("slow", slow) })
        {
            if (!SeriesUse.IsSeries([.. own.Select(DaysOf)]))
                continue;
            hasSeries = true;
            CurvePoint[] points = [.. own.Select(b => new CurvePoint(DaysOf(b), On(b).Fraction))];
            foreach (CurveCandidate candidate in DecayCurves.Compare(points))
            {
                CurveFit? fit = candidate.Fit.Value;
                ReleasedCurve row = Row(litter, AtlasCode.Of(candidate.Form), own, candidate.Fit.Statement, fit?.Parameters) with
                {
                    ResidualSd = fit?.ResidualSd,
                    Aicc = fit?.Aicc,
                    Weight = candidate.Weight,
                };
                yield return litter == "slow" && candidate.Form == CurveForm.Asymptotic ? WithPair(row, points, twoBagRates) : row;
            }
        }

        if (!hasSeries)
            yield break;
        (double H, double Uncertainty) ofFast = HydrolysableOf(fast.Select(On)), ofSlow = HydrolysableOf(slow.Select(On));
        Answer<SharedStabilisation> joint = JointLitters.Fit(
            [.. bags.Select(b => new LitterPoint(b.Row.Role, DaysOf(b), On(b).Fraction))], ofFast.H, ofSlow.H);
        JointFit? one = joint.Value?.SharedS, two = joint.Value?.SeparateS;
        yield return Joint("one-s", one, two) with { SharedStabilisationP = joint.Value?.PValue };
        yield return Joint("two-s", two, one);

        ReleasedCurve Joint(string model, JointFit? fit, JointFit? other) => Row("both", model, bags, joint.Statement, fit?.Parameters) with
        {
            ResidualSd = fit is null ? null : Math.Sqrt(fit.ResidualSumOfSquares / fit.DegreesOfFreedom),
            Aicc = fit?.Aicc,
            Weight = WeightOf(fit?.Aicc, other?.Aicc),
            FastHydrolysable = Known(ofFast.H),
            FastHydrolysableUncertainty = Known(ofFast.Uncertainty),
            SlowHydrolysable = Known(ofSlow.H),
            SlowHydrolysableUncertainty = Known(ofSlow.Uncertainty),
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
                Retrievals = SeriesUse.Retrievals(days).Length,
                ShortestDays = days.DefaultIfEmpty(0).Min(),
                LongestDays = days.DefaultIfEmpty(0).Max(),
                TwoBagRatePerDay = twoBagRates.Length > 0 ? twoBagRates.Average(r => r.RatePerDay) : null,
                TwoBagBurials = twoBagRates.Length,
            }, With);
        }
    }

    /// <summary>Two measurements of k that share no slow bag: the two-bag k of the retrieval nearest to the usual exposure, and the curve
    /// of all others.</summary>
    private static ReleasedCurve WithPair(ReleasedCurve curve, CurvePoint[] points, TwoBagRate[] twoBagRates)
    {
        if (twoBagRates.Length == 0)
            return curve with { ApartStatement = "No accepted burial of the series has a k of two bags." };
        int[] retrievals = SeriesUse.Retrievals([.. points.Select(p => (int)p.Days), .. twoBagRates.Select(r => r.Days)]);
        int RetrievalOf(double days) => retrievals.Last(first => first <= days);
        IGrouping<int, TwoBagRate> apart = twoBagRates.GroupBy(r => RetrievalOf(r.Days))
            .OrderBy(g => Math.Abs(g.Key - SeriesUse.UsualDays)).ThenBy(g => g.Key).First();
        CurvePoint[] others = [.. points.Where(p => RetrievalOf(p.Days) != apart.Key)];
        ReleasedCurve set = curve with
        {
            ApartDays = apart.Key,
            ApartTwoBagRatePerDay = apart.Average(r => r.RatePerDay),
            ApartTwoBagBurials = apart.Count(),
        };
        if (!SeriesUse.IsSeries([.. others.Select(p => (int)p.Days)]))
        {
            return set with
            {
                ApartStatement = "Without that retrieval the slow litter has too few others, or they lie too close together, for a curve.",
            };
        }

        Answer<CurveFit> fit = DecayCurves.Fit(others, CurveForm.Asymptotic);
        return fit.Value is { } found
            ? set with { ApartRatePerDay = Released(found.Parameters[0]) } : set with { ApartStatement = fit.Statement!.Sentence };
    }

    private static double? WeightOf(double? own, double? other) => own is { } a && other is { } b ? 1 / (1 + Math.Exp((a - b) / 2)) : null;

    // bags of one litter may come of several lots; their H differ by less than its uncertainty (common practice, no source)
    private static (double H, double Uncertainty) HydrolysableOf(IEnumerable<RemainingFraction> bags)
    {
        Hydrolysable?[] all = [.. bags.Select(b => b.Hydrolysable.Value)];
        return all.Length == 0 || all.Any(h => h is null) ? (double.NaN, double.NaN)
            : (all.Average(h => h!.Fraction), all.Average(h => new SharedErrors(h!.Errors, default).UncertaintyLot));
    }

    private static double? Known(double value) => double.IsNaN(value) ? null : value;

    private static ReleasedParameter Released(FittedParameter p) => new(p.Value, p.StandardError, p.Lower95, p.Upper95);

    private static ReleasedCurve With(ReleasedCurve curve, FittedParameter parameter)
    {
        ReleasedParameter released = Released(parameter);
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
