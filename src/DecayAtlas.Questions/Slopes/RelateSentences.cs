namespace DecayAtlas.Questions.Slopes;

/// <summary>What a relation says, and what may not be concluded.</summary>
internal static class RelateSentences
{
    public static IEnumerable<string> Of(RelateAnswer answer, AskedOf of)
    {
        if (answer.Slope is not { } slope)
            yield break;
        yield return Finding(answer, slope, of);
        yield return $"Sites were not given their {answer.To} by lot: this is how {of.Symbol()} and {answer.To} go together, not what "
            + $"{answer.To} does. " + (answer.With.Count > 0 ? "Only the covariates named were adjusted for, as straight lines."
                : "It goes with climate and soil; --with adjusts for covariates.");
        yield return $"Errors of {answer.To} itself are not in the model and flatten its slope: the true one may be steeper"
            + (answer.With.Count > 0 ? "; errors of what was adjusted for may move it either way." : ".");
        if (answer.IsOfSamples)
        {
            yield return "Samples are means of a site and campaign over both litters, each studied by its contributor's own method: what "
                + "litters and methods differ by goes into the slope.";
        }

        yield return "P is of this quantity alone, in no correction: of twenty that are asked, one seems to matter by chance.";
        yield return ReleasedRates.InIntervals;
    }

    private static string Finding(RelateAnswer answer, RelatedSlope slope, AskedOf of)
    {
        IntervalEstimate e = slope.PerStandardDeviation;
        string over = $"Over {answer.Sites} sites", one = Invariant($"one standard deviation ({answer.StandardDeviation:G3})");
        string at = answer.With.Count == 0 ? "" : $", at equal {string.Join(", ", answer.With)}";
        string tail = $"P {GroupQuestion.Probability(slope.PValue)}{at}).";
        bool isRate = of == AskedOf.Rate;
        if (slope.PValue >= 0.05)
        {
            return $"{over} no relation of {of.Symbol()} with {answer.To} is shown: {one} more may " + (isRate
                ? Invariant($"multiply it by {e.Lower95:0.000} to {e.Upper95:0.000} ({tail}")
                : Invariant($"add {e.Lower95:0.0000} to {e.Upper95:0.0000} ({tail}"));
        }

        return isRate
            ? Invariant($"{over} k is {e.Value:0.000} times as high where {answer.To} is {one} higher (95 % interval {e.Lower95:0.000} to ")
                + Invariant($"{e.Upper95:0.000}, {tail}")
            : Invariant($"{over} S is {Math.Abs(e.Value):0.0000} {(e.Value < 0 ? "lower" : "higher")} where {answer.To} is {one} higher ")
                + Invariant($"(change {e.Lower95:0.0000} to {e.Upper95:0.0000}, 95 % interval, {tail}");
    }
}
