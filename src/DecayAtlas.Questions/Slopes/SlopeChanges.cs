namespace DecayAtlas.Questions.Slopes;

/// <summary>What is another between an answer about slopes with the noted records and the same answer without.</summary>
public static class SlopeChanges
{
    public static AnswerChange Of(TrendAnswer all, TrendAnswer without)
    {
        if (AnswerChanges.OfStatements(all.Statement, without.Statement) is { } told)
            return told;
        return OfSlopes("change per year", AskedOfNames.Parse(all.Of), all.Slopes[0].PerYear, without.Slopes[0].PerYear);
    }

    public static AnswerChange Of(RelateAnswer all, RelateAnswer without)
    {
        if (AnswerChanges.OfStatements(all.Statement, without.Statement) is { } told)
            return told;
        return OfSlopes(
            $"change with one standard deviation of {all.To}", AskedOfNames.Parse(all.Of), all.Slope!.PerStandardDeviation,
            without.Slope!.PerStandardDeviation);
    }

    private static AnswerChange OfSlopes(string what, AskedOf of, IntervalEstimate before, IntervalEstimate after)
    {
        double none = of == AskedOf.Rate ? 1 : 0;
        bool isOther = SideOf(before) != SideOf(after);
        return new(isOther, isOther ? $"{what} {Told(after)} instead of {Told(before)}; the conclusion is another."
            : Invariant($"no conclusion changes; {what} {after.Value:0.0000} instead of {before.Value:0.0000}."));

        int SideOf(IntervalEstimate e) => e.Lower95 > none ? 1 : e.Upper95 < none ? -1 : 0;

        static string Told(IntervalEstimate e) => Invariant($"{e.Value:0.0000} ({e.Lower95:0.0000} to {e.Upper95:0.0000})");
    }

    public static AnswerChange Of(WarmthAnswer all, WarmthAnswer without)
    {
        List<string> said = [];
        bool isOther = false;
        bool isRate = all.Of == AskedOf.Rate.Code();
        string what = isRate ? "Q10" : "change per 10 K";
        if (AnswerChanges.OfStatements(all.Statement, without.Statement) is { } told)
        {
            said.Add(told.Sentence.TrimEnd('.'));
            isOther = told.IsOfConclusion;
        }
        else
        {
            (FittedWarmth before, FittedWarmth after) = (all.Responses[0], without.Responses[0]);
            said.Add($"{what} over sites {Told(after.PerTenKelvin)} "
                + $"instead of {Told(before.PerTenKelvin)}");
            isOther = SideOf(after.PerTenKelvin) != SideOf(before.PerTenKelvin);
            if ((after.Form, after.Moisture) != (before.Form, before.Moisture))
            {
                FittedWarmth? kept = without.Responses.FirstOrDefault(r => (r.Form, r.Moisture) == (before.Form, before.Moisture));
                said.Add(
                    $"the best form is {after.Form}, moisture {after.Moisture}, instead of {before.Form}, moisture {before.Moisture}"
                    + (kept?.IsAsGoodAs(after) == true ? $", which gives {Told(kept.PerTenKelvin)} and is as good within 2 AICc" : ""));
                isOther |= kept?.IsAsGoodAs(after) != true;
            }
        }

        if (all.Warmed is { } warmed)
        {
            said.Add(without.Warmed is { } now
                ? $"warmed plots {(isRate ? "over" : "less")} untreated ones {Told(now.Contrast)} instead of {Told(warmed.Contrast)}"
                : $"no answer from warmed plots: {without.WarmedStatement?.TrimEnd('.')}");
            isOther |= without.Warmed is not { } left || left.PValue < 0.05 != warmed.PValue < 0.05;
        }

        if (isOther)
            return new(true, $"{string.Join("; ", said)}. The conclusion is another.");
        return new(false, all.Statement is not null ? AnswerChanges.NoneChanges
            : $"no conclusion changes; {what} over sites{Small()}.");

        // of one form, since another may come first by a hair
        string Small()
        {
            FittedWarmth before = all.Responses[0];
            FittedWarmth? after = without.Responses.FirstOrDefault(r => (r.Form, r.Moisture) == (before.Form, before.Moisture));
            return after is null ? "" : $" by that form {Short(after)} instead of {Short(before)}";
        }

        string Short(FittedWarmth f) => isRate ? Invariant($"{f.PerTenKelvin.Value:0.00}") : Invariant($"{f.PerTenKelvin.Value:0.000}");

        string Told(IntervalEstimate e) => isRate ? Invariant($"{e.Value:0.00} ({e.Lower95:0.00} to {e.Upper95:0.00})")
            : Invariant($"{e.Value:0.000} ({e.Lower95:0.000} to {e.Upper95:0.000})");

        int SideOf(IntervalEstimate e)
        {
            double none = isRate ? 1 : 0;
            return e.Lower95 > none ? 1 : e.Upper95 < none ? -1 : 0;
        }
    }
}
