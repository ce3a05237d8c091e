namespace DecayAtlas.Questions.Answers;

/// <summary>One response of k to temperature, fitted over sites.</summary>
/// <param name="Form">q10, arrhenius or lloyd-taylor.</param>
/// <param name="Moisture">none, linear or quadratic.</param>
/// <param name="Sensitivity">Q10 (1), activation energy (kJ mol⁻¹) or E0 (K), with its 95 % interval.</param>
/// <param name="Q10At15">By how much k multiplies from 10 to 20 °C.</param>
/// <param name="Aicc">Missing with too few sites.</param>
public sealed record FittedWarmth(string Form, string Moisture, IntervalEstimate Sensitivity, IntervalEstimate Q10At15,
    double ShareExplained, double? Aicc)
{
    /// <summary>Within 2 AICc the data do not choose between forms (Burnham and Anderson 2002, from memory).</summary>
    internal bool IsAsGoodAs(FittedWarmth best) => Aicc - best.Aicc <= 2;
}

/// <summary>Warmed plots against untreated ones of the same site and campaign.</summary>
/// <param name="RateRatio">Geometric mean of k warmed over k untreated.</param>
/// <param name="Q10">From the stated warming; missing where none is stated.</param>
public sealed record WarmedPlots(int Pairs, IntervalEstimate RateRatio, double PValue, IntervalEstimate? Q10);

/// <summary>One site as it entered the response.</summary>
public sealed record WarmthSite(string SiteKey, double RatePerDay, double TemperatureCelsius, double? Moisture);

/// <summary>What a release says of warmth: numbers, or statements why there are none.</summary>
/// <param name="SitesLeftOut">Sites with k where a covariate is missing or withheld.</param>
/// <param name="Responses">The lowest AICc first.</param>
public sealed record WarmthAnswer(
    string Temperature, string? MoistureBy, int Sites, int SitesLeftOut, IReadOnlyList<FittedWarmth> Responses, string? Statement,
    WarmedPlots? Warmed, string? WarmedStatement, IReadOnlyList<string> Sentences)
{
    internal TemperatureResponse? Best { get; init; }

    internal IReadOnlyList<WarmthSite> Points { get; init; } = [];
}

/// <summary>Asks how k rises with warmth: over the untreated plots of all sites, one point a site, and in warmed plots beside untreated
/// ones.</summary>
public static class WarmthQuestion
{
    /// <param name="temperature">Covariate (°C).</param>
    /// <param name="moisture">Covariate; null for none.</param>
    /// <param name="warmed">The treatment of warmed plots.</param>
    /// <param name="warmingKelvin">Where known.</param>
    /// <exception cref="ConfigurationException">The release has no covariate of that name.</exception>
    public static WarmthAnswer Ask(ReleasedRates rates, string temperature, string? moisture, string warmed, double? warmingKelvin)
    {
        Func<ReleasedPlot, double[]?> covariates = rates.Covariates(moisture is null ? [temperature] : [temperature, moisture]);
        ReleasedPlot[] untreated = [.. rates.Plots.Where(p => p.IsUntreated)];
        ReleasedPlot[] known = [.. untreated.Where(p => covariates(p) is not null)];
        WarmthSite[] sites =
        [
            .. known.GroupBy(p => p.SiteKey, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal).Select(g => new WarmthSite(
                g.Key, Math.Exp(MeanOf(g, p => p.LnRateMean!.Value)),
                MeanOf(g, p => covariates(p)![0]), moisture is null ? null : MeanOf(g, p => covariates(p)![1]))),
        ];
        (TemperatureResponse? best, FittedWarmth[] responses, string? statement) = Fit(sites, moisture is not null);
        (WarmedPlots? pairs, string? pairStatement) = Pairs(rates.Plots, warmed, warmingKelvin);
        return new WarmthAnswer(
            temperature, moisture, sites.Length, ReleasedRates.SitesOf(untreated) - sites.Length, responses, statement,
            pairs, pairStatement,
            [.. Sentences(sites, moisture, responses, pairs, warmed, warmingKelvin),
                rates.NotInIntervals(known), .. rates.LeftOut().Select(w => $"Left out: {w}.")])
        {
            Best = best,
            Points = sites,
        };
    }

    private static double MeanOf(IEnumerable<ReleasedPlot> plots, Func<ReleasedPlot, double> value) =>
        plots.Sum(p => p.LnRateBurials * value(p)) / plots.Sum(p => p.LnRateBurials);

    private static (TemperatureResponse? Best, FittedWarmth[] Responses, string? Statement) Fit(WarmthSite[] sites, bool hasMoisture)
    {
        WarmthPoint[] points = [.. sites.Select(s => new WarmthPoint(s.RatePerDay, s.TemperatureCelsius, s.Moisture))];
        MoistureTerm[] terms = hasMoisture ? [MoistureTerm.None, MoistureTerm.Linear, MoistureTerm.Quadratic] : [MoistureTerm.None];
        Answer<TemperatureResponse>[] answers = [.. Enum.GetValues<WarmthForm>()
            .SelectMany(form => terms.Select(term => TemperatureResponse.Fit(points, form, term)))];
        TemperatureResponse[] fits = [.. answers.Select(a => a.Value).OfType<TemperatureResponse>()
            .OrderBy(f => f.Aicc ?? double.PositiveInfinity)];
        return (
            fits.FirstOrDefault(),
            [.. fits.Select(f =>
                new FittedWarmth(NameOf(f.Form), NameOf(f.Moisture), f.Sensitivity, f.Q10At(15), f.ShareExplained, f.Aicc))],
            fits.Length > 0 ? null : answers[0].Statement!.Sentence);
    }

    private static string NameOf<T>(T value) where T : struct, Enum =>
        Atlas.AtlasCode.Of(value).Replace("q-10", "q10", StringComparison.Ordinal);

    private static (WarmedPlots? Warmed, string? Statement) Pairs(IReadOnlyList<ReleasedPlot> plots, string warmed, double? kelvin)
    {
        WarmedPair[] pairs =
        [
            .. plots.GroupBy(p => (p.SiteKey, p.Campaign)).OrderBy(g => g.Key.SiteKey, StringComparer.Ordinal)
                .ThenBy(g => g.Key.Campaign, StringComparer.Ordinal)
                .Select(g => (Warm: g.Where(p => p.Treatment == warmed).ToArray(), Control: g.Where(p => p.IsUntreated).ToArray()))
                .Where(x => x.Warm.Length > 0 && x.Control.Length > 0)
                .Select(x =>
                    new WarmedPair(Math.Exp(MeanOf(x.Warm, p => p.LnRateMean!.Value)), Math.Exp(MeanOf(x.Control, p => p.LnRateMean!.Value)), kelvin)),
        ];
        if (pairs.Length == 0)
            return (null, $"No site has accepted burials in plots of treatment {warmed} and in untreated ones of the same campaign.");
        Answer<WarmingEffect> answer = PairedWarming.Of(pairs);
        return answer.Value is { } effect ? (new WarmedPlots(effect.Pairs, effect.RateRatio, effect.PValue, effect.Q10), null)
            : (null, answer.Statement!.Sentence);
    }

    private static IEnumerable<string> Sentences(WarmthSite[] sites, string? moisture, FittedWarmth[] responses, WarmedPlots? pairs,
        string warmed, double? kelvin)
    {
        if (responses.Length > 0)
        {
            IntervalEstimate q = responses[0].Q10At15;
            string interval = Invariant($"{q.Lower95:0.0} to {q.Upper95:0.0}");
            string equal = moisture is null || responses[0].Moisture == "none" ? "" : $", at equal {moisture}";
            yield return q.Lower95 > 1
                ? Invariant($"Over {sites.Length} sites k is {q.Value:0.0} times as high at 20 °C as at 10 °C (95 % interval ")
                    + $"{interval}{equal}){Reach(sites)}."
                : $"Over {sites.Length} sites no rise of k with temperature is shown: from 10 to 20 °C it may change by a factor of "
                    + $"{interval}{Reach(sites)}.";
            yield return
                "Across sites warmth goes with much else (soil, plants, moisture): this is how k and temperature go together, not what "
                + "warming would do.";
            string[] asGood = [.. responses.Skip(1).Where(f => f.IsAsGoodAs(responses[0])).Select(f => Invariant(
                $"{f.Form}, moisture {f.Moisture}: {f.Q10At15.Value:0.0} ({f.Q10At15.Lower95:0.0} to {f.Q10At15.Upper95:0.0})"))];
            if (asGood.Length > 0)
            {
                yield return $"Within 2 AICc of that form ({responses[0].Form}, moisture {responses[0].Moisture}) Q10 is also: "
                    + $"{string.Join("; ", asGood)}.";
            }
        }

        if (pairs is not { } w)
            yield break;
        IntervalEstimate r = w.RateRatio;
        string pairText =
            Invariant($"In {w.Pairs} pairs k of {warmed} plots is {r.Value:0.00} times that of untreated ones (95 % interval ")
            + Invariant($"{r.Lower95:0.00} to {r.Upper95:0.00}, P {GroupQuestion.Probability(w.PValue)})");
        yield return w.Q10 is { } q10
            ? pairText
                + Invariant($"; for {kelvin} K of warming that is a Q10 of {q10.Value:0.0} ({q10.Lower95:0.0} to {q10.Upper95:0.0}).")
            : pairText + ".";
        yield return "The ratio is of the whole treatment: what warms a plot often dries it as well.";
    }

    // a Q10 from 10 to 20 °C is read off the fitted curve, also where no site is as cold or as warm
    private static string Reach(WarmthSite[] sites)
    {
        double low = sites.Min(s => s.TemperatureCelsius), high = sites.Max(s => s.TemperatureCelsius);
        return low <= 10 && high >= 20 ? ""
            : Invariant($"; the sites reach from {low:0.0} to {high:0.0} °C, beyond that the curve alone speaks");
    }
}
