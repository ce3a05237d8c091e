namespace DecayAtlas.Pipeline.Steps;

/// <summary>
/// Bags of sites with several retrievals -> decay curves. A bag that is set aside only since it lay shorter or longer than a standard
/// exposure is just what a curve needs, so that it takes part here and not in the site's mean k.
/// </summary>
public static class CurveStep
{
    /// <summary>Fewer retrievals than this and no curve is looked for.</summary>
    public const int FewestRetrievals = 3;

    /// <summary>Bags whose exposures lie closer than this are of one retrieval (d; common practice, no source).</summary>
    private const int RetrievalDays = 7;

    /// <summary>The longest exposure over the shortest, below which there is no course of decay to see (common practice, no
    /// source).</summary>
    private const double LeastSpan = 2;

    public static IReadOnlyList<SiteCurve> Run(IReadOnlyList<Bag> bags, IReadOnlyList<Burial> burials, Verdicts verdicts)
    {
        ILookup<SeriesKey, Burial> accepted = burials.Where(b => verdicts.Of(b).Use == Use.Accepted && b.RatePerDay.Value is not null)
            .ToLookup(b => new SeriesKey(b.SiteKey, b.Header.Campaign, b.Lead.Row.Treatment));
        return
        [
            .. bags.Where(b => b.Remaining.Value is not null && DaysOf(b) > 0)
                .GroupBy(b => new SeriesKey(b.SiteKey, b.Header.Campaign, b.Row.Treatment))
                // most sites have one exposure: they are passed over before any verdict is asked for
                .Where(g => IsSeries(g.Select(DaysOf)))
                .OrderBy(g => g.Key.SiteKey, StringComparer.Ordinal).ThenBy(g => g.Key.Campaign, StringComparer.Ordinal)
                .ThenBy(g => g.Key.Treatment, StringComparer.Ordinal)
                .SelectMany(g =>
                    CurvesOf(
                        g.Key, [.. g.Where(b => IsFitted(verdicts.Of(b)))], [.. accepted[g.Key].Select(b => b.RatePerDay.Value!.Value)])),
        ];
    }

    private static bool IsFitted(Verdict verdict) => SeriesUse.Fits(AtlasCode.Of(verdict.Use), verdict.Because);

    private readonly record struct SeriesKey(string SiteKey, string Campaign, string? Treatment);

    private static int DaysOf(Bag bag) => bag.Row.RetrievedOn is { } retrieved ? retrieved.DayNumber - bag.Row.BuriedOn.DayNumber : 0;

    private static IEnumerable<SiteCurve> CurvesOf(SeriesKey key, Bag[] bags, double[] twoBagRates)
    {
        double? twoBag = twoBagRates.Length > 0 ? twoBagRates.Average() : null;
        Bag[] fast = [.. bags.Where(b => b.Row.Role == LitterRole.Fast)], slow = [.. bags.Where(b => b.Row.Role == LitterRole.Slow)];
        bool hasSeries = false;
        foreach ((string litter, Bag[] own) in new[] { ("fast", fast), ("slow", slow) })
        {
            if (!IsSeries(own.Select(DaysOf)))
                continue;
            hasSeries = true;
            foreach (CurveCandidate candidate in DecayCurves.Compare([
                .. own.Select(b => new CurvePoint(DaysOf(b), b.Remaining.Value!.Fraction))]))
            {
                CurveFit? fit = candidate.Fit.Value;
                yield return Row(litter, AtlasCode.Of(candidate.Form), own, candidate.Fit.Statement) with
                {
                    Parameters = (fit?.Parameters ?? []).ToDictionary(p => ColumnOf(p.Name), StringComparer.Ordinal),
                    ResidualSd = fit?.ResidualSd,
                    Aicc = fit?.Aicc,
                    Weight = candidate.Weight,
                };
            }
        }

        if (!hasSeries)
            yield break;
        Answer<SharedStabilisation> joint = JointLitters.Fit(
            [.. bags.Select(b => new LitterPoint(b.Row.Role, DaysOf(b), b.Remaining.Value!.Fraction))], HydrolysableOf(fast),
            HydrolysableOf(slow));
        double? one = joint.Value?.SharedS.Aicc, two = joint.Value?.SeparateS.Aicc;
        foreach ((string model, JointFit? fit, double? weight) in new[]
        {
            ("one-s", joint.Value?.SharedS, WeightOf(one, two)),
            ("two-s", joint.Value?.SeparateS, WeightOf(two, one)),
        })
        {
            yield return Row("both", model, bags, joint.Statement) with
            {
                Parameters = (fit?.Parameters ?? []).ToDictionary(p => ColumnOf(p.Name), StringComparer.Ordinal),
                ResidualSd = fit is null ? null : Math.Sqrt(fit.ResidualSumOfSquares / fit.DegreesOfFreedom),
                Aicc = fit?.Aicc,
                Weight = weight,
                SharedStabilisationP = model == "one-s" ? joint.Value?.PValue : null,
            };
        }

        SiteCurve Row(string litter, string model, Bag[] own, Unanswered? statement) => new(
            key.SiteKey, key.Campaign, key.Treatment, litter, model,
            own.Length, RetrievalsAmong([.. own.Select(DaysOf)]), own.Select(DaysOf).DefaultIfEmpty(0).Min(), own.Select(DaysOf)
                .DefaultIfEmpty(0).Max(), statement?.Sentence,
            new Dictionary<string, FittedParameter>(), null, null, null, null, twoBag, twoBagRates.Length);
    }

    private static double? WeightOf(double? own, double? other) => own is { } a && other is { } b ? 1 / (1 + Math.Exp((a - b) / 2)) : null;

    /// <summary>Whether exposures (d) make a series: at least three retrievals, the longest at least twice the shortest.</summary>
    public static bool IsSeries(IEnumerable<int> days)
    {
        int[] all = [.. days];
        return all.Length >= FewestRetrievals && all.Max() >= LeastSpan * all.Min() && RetrievalsAmong(all) >= FewestRetrievals;
    }

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
    private static double HydrolysableOf(Bag[] bags) => bags.Length == 0 ? double.NaN : bags.Average(b => b.Lot.HydrolysableFraction);

    /// <summary>The released letter of a parameter of a curve.</summary>
    private static string ColumnOf(string name) => name switch
    {
        "k" or "k1" or "k_s" => SiteCurve.K,
        "k2" => SiteCurve.K2,
        "r" => SiteCurve.Rest,
        "p" => SiteCurve.FasterShare,
        "k_f" => SiteCurve.KFast,
        "S" or "S_f" => SiteCurve.S,
        "S_s" => SiteCurve.SSlow,
        _ => throw new ArgumentException($"No column is kept for the parameter {name}.", nameof(name)),
    };
}
