namespace DecayAtlas.Questions.Slopes;

/// <summary>What a response to warmth says, and what may not be concluded.</summary>
internal static class WarmthSentences
{
    public static IEnumerable<string> Of(WarmthAnswer answer, WarmthRequest request, AskedOf of) =>
        [.. OfSites(answer, request, of), .. OfWarmed(answer, request, of)];

    private static IEnumerable<string> OfSites(WarmthAnswer answer, WarmthRequest request, AskedOf of)
    {
        if (answer.Responses.Count == 0)
            yield break;
        FittedWarmth best = answer.Responses[0];
        yield return Finding(answer, best, of);
        yield return Caution(of);
        if (of == AskedOf.Rate)
        {
            yield return "Places where the slow litter lost too little to tell give no k, and these are mostly cold or dry: without them a "
                + "response may come out flatter than it is.";
        }

        string[] asGood = [.. answer.Responses.Skip(1).Where(f => f.IsAsGoodAs(best)).Select(f =>
            $"{f.Form}, moisture {f.Moisture}: {Told(f.PerTenKelvin, of)}")];
        if (asGood.Length > 0)
        {
            yield return $"Within 2 AICc of that form ({best.Form}, moisture {best.Moisture}) "
                + $"{(of == AskedOf.Rate ? "Q10" : "the change per 10 K")} is also: {string.Join("; ", asGood)}. "
                + $"Each interval is of one of them{(of == AskedOf.Rate ? ", and where no site lies forms can differ by more" : "")}: "
                + $"{OverForms(answer, of)}.";
        }

        if (Corrected(answer, of) is { } corrected)
            yield return corrected;
        if (SetAside(answer) is { } aside)
            yield return $"{aside} The suppositions plateau-taken and plateau-taken-corrected of sensitivity take them in.";
        if (answer.Neighbours is { } near)
        {
            yield return Invariant($"What is left of sites within {WarmthQuestion.DegreesNear(request):0.##} degrees of each other is ")
                + (near.PValue >= 0.05 ? "not shown to be alike" : near.Value > near.Expected ? "still alike" : "rather unlike")
                + Invariant($" (Moran's I {near.Value:0.00} over {near.Pairs} pairs, {near.Expected:0.00} by chance, ")
                + $"P {GroupQuestion.Probability(near.PValue)})"
                + (near.PValue < 0.05 && near.Value > near.Expected
                    ? "; sites then say less than so many independent ones, and the interval is too narrow: try a larger --block-degrees."
                    : ".");
        }

        yield return ReleasedRates.InIntervals;
    }

    /// <summary>With the choice between forms in the interval; missing where one form stands alone.</summary>
    internal static string? OverForms(WarmthAnswer answer, AskedOf of) => answer.OverForms is not { } over ? null
        : $"over all of them, weighed by AICc and with the choice between them in the interval, it is {Told(over, of)}";

    /// <summary>What the answer would be if the fast litter of slow places were not taken to be at its plateau.</summary>
    internal static string? Corrected(WarmthAnswer answer, AskedOf of)
    {
        FittedWarmth best = answer.Responses[0];
        if (best.PlateauCorrected is not { } first)
            return null;
        string[] others = [.. answer.Responses.Skip(1).Where(r => r.IsAsGoodAs(best)).Select(r => r.PlateauCorrected).OfType<FittedWarmth>()
            .Select(c => $"{c.Form}: {Told(c.PerTenKelvin, of)}")];
        return "Where decay is slow, the fast litter is dug up before its plateau, which makes S and k too high there: corrected for a "
            + Invariant($"fast litter that decays {answer.FastOverSlow} times as fast as the slow one (plateau.fast_over_slow), ")
            + $"{(of == AskedOf.Rate ? "Q10" : "the change per 10 K")} is {Told(first.PerTenKelvin, of)}"
            + $"{(others.Length > 0 ? $" ({string.Join("; ", others)})" : "")}.";
    }

    /// <summary>The same where a picture has the line itself.</summary>
    internal static string? OfDashedLine(WarmthAnswer answer, AskedOf of) =>
        answer.Responses[0].PlateauCorrected is not { } corrected ? null
        : $"Corrected for a fast litter that was dug up before its plateau (dashed): {Told(corrected.PerTenKelvin, of)}.";

    /// <summary>What is not in the answer, and where it lies.</summary>
    internal static string? SetAside(WarmthAnswer answer)
    {
        if (answer.SetAside is not { } aside)
            return null;
        string where = aside.MeanCelsius is { } celsius && answer.MeanCelsius is { } used
            ? Invariant($": their sites have {celsius:0.0} °C in the mean, those of the burials that took part {used:0.0} °C") : "";
        return $"{Counted.Of(aside.Burials, "burial")} of {Counted.Of(aside.Sites, "site")} "
            + $"{(aside.Burials == 1 ? "is" : "are")} set aside, the fast litter having been dug up before its plateau "
            + $"(plateau-not-reached){where}.";
    }

    internal static string Caution(AskedOf of) =>
        "Across sites warmth goes with much else (soil, plants, moisture): this is how "
        + $"{of.Symbol()} and temperature go together, not what warming would do.";

    internal static string Finding(WarmthAnswer answer, FittedWarmth best, AskedOf of)
    {
        string[] equal = [.. best.Moisture == ReleasedWarmth.Bare ? [] : (string[])[answer.MoistureBy!], .. answer.With];
        string at = equal.Length == 0 ? "" : $", at equal {string.Join(", ", equal)}";
        IntervalEstimate ten = best.PerTenKelvin;
        if (of == AskedOf.Stabilisation)
        {
            return ten.Lower95 > 0 || ten.Upper95 < 0
                ? Invariant($"Over {answer.Sites} sites S is {Math.Abs(ten.Value):0.000} {(ten.Value < 0 ? "lower" : "higher")} where it ")
                    + Invariant($"is 10 K warmer (change {ten.Lower95:0.000} to {ten.Upper95:0.000}, 95 % interval{at}){Reach(answer)}.")
                : Invariant($"Over {answer.Sites} sites no change of S with temperature is shown: per 10 K it may lie anywhere from ")
                    + Invariant($"{ten.Lower95:0.000} to {ten.Upper95:0.000}{at}{Reach(answer)}.");
        }

        bool isShown = ten.Lower95 > 1 || ten.Upper95 < 1;
        string interval = $"{Digits(ten.Lower95)} to {Digits(ten.Upper95)}";
        return isShown
            ? Invariant($"Over {answer.Sites} sites k is {Digits(ten.Value)} times as high at 20 °C as at 10 °C (95 % interval ")
                + $"{interval}{at}){Reach(answer)}."
            : $"Over {answer.Sites} sites no rise of k with temperature is shown: from 10 to 20 °C it may change by a factor of "
                + $"{interval}{at}{Reach(answer)}.";

        string Digits(double x) => x.ToString("0.00", System.Globalization.CultureInfo.InvariantCulture);
    }

    private static IEnumerable<string> OfWarmed(WarmthAnswer answer, WarmthRequest request, AskedOf of)
    {
        if (answer.Warmed is not { } w)
            yield break;
        IntervalEstimate c = w.Contrast;
        string pairs = of == AskedOf.Rate
            ? Invariant($"At {w.Sites} sites k of {request.Warmed} plots is {c.Value:0.00} times that of untreated ones (95 % interval ")
                + Invariant($"{c.Lower95:0.00} to {c.Upper95:0.00}, P {GroupQuestion.Probability(w.PValue)} of this pair alone)")
            : Invariant($"At {w.Sites} sites S of {request.Warmed} plots less that of untreated ones is {c.Value:0.000} (95 % interval ")
                + Invariant($"{c.Lower95:0.000} to {c.Upper95:0.000}, P {GroupQuestion.Probability(w.PValue)} of this pair alone)");
        IntervalEstimate? ten = w.Q10 ?? w.PerTenKelvin;
        yield return ten is { } t
            ? pairs + Invariant($"; for {request.WarmingKelvin} K of warming that is ")
                + (of == AskedOf.Rate ? $"a Q10 of {Told(t, of)}." : $"{Told(t, of)} per 10 K.")
            : pairs + ".";
        yield return $"The {(of == AskedOf.Rate ? "ratio" : "difference")} is of the whole treatment: what warms a plot often dries it as "
            + "well.";
    }

    private static string Told(IntervalEstimate e, AskedOf of) => of == AskedOf.Rate
        ? Invariant($"{e.Value:0.0} ({e.Lower95:0.0} to {e.Upper95:0.0})")
        : Invariant($"{e.Value:0.000} ({e.Lower95:0.000} to {e.Upper95:0.000})");

    // a change from 10 to 20 °C is read off the fitted curve, also where no site is as cold or as warm
    private static string Reach(WarmthAnswer answer)
    {
        double low = answer.Points.Min(p => p.TemperatureCelsius), high = answer.Points.Max(p => p.TemperatureCelsius);
        return low <= 10 && high >= 20 ? ""
            : Invariant($"; the sites reach from {low:0.0} to {high:0.0} °C, beyond that the curve alone speaks");
    }
}
