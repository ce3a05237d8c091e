namespace DecayAtlas.Questions.Slopes;

/// <summary>What a change over campaigns says, and what may not be concluded.</summary>
internal static class TrendSentences
{
    public static IEnumerable<string> Of(TrendAnswer answer, TrendRequest request, AskedOf of)
    {
        if (answer.Slopes.Count == 0)
            yield break;
        int campaigns = answer.Campaigns.Count;
        yield return Finding(answer, answer.Slopes[0], of);
        if (campaigns < ReleasedTrend.FewestCampaigns)
        {
            yield return "With 2 campaigns a trend can't be told from the difference of two seasons, and how seasons scatter is in no "
                + "interval.";
        }
        else
        {
            yield return answer.Levels.Contains(UnitLevel.Campaign.Name)
                ? $"The scatter of {campaigns} seasons is in the interval; a run of good or bad years can still pass for a trend."
                : $"The scatter of {campaigns} seasons could not be told, and is in no interval: a run of good or bad years can pass for a "
                    + "trend.";
        }

        yield return answer.SitesDugAgain == 0
            ? $"None of {answer.Sites} sites was dug in several campaigns: this is the difference of sites dug at different times."
            : $"Of {Counted.Of(answer.Sites, "site")} {answer.SitesDugAgain} {(answer.SitesDugAgain == 1 ? "was" : "were")} dug in several "
                + "campaigns; what changed there is told from what differs between sites.";
        if (!request.IsBySite && answer.Campaigns.Skip(1).Any(c => c.NewSites > 0))
        {
            string joined = string.Join(", ", answer.Campaigns.Select(c => $"{c.Campaign}: {c.NewSites} new"));
            yield return $"Sites joined over time ({joined}): where later ones lie in other climates "
                + "or soils, that difference goes into the change; --with adjusts for covariates"
                + (answer.SitesDugAgain > 0 ? ", --by-site asks of the sites dug again alone." : ".");
        }

        yield return "P is of this change alone, in no correction for other questions.";
        if (request.IsBySite && answer.Slopes.Count > 1)
            yield return "The change between sites is of sites dug at different times: how these differ otherwise goes into it.";
        yield return ReleasedRates.InIntervals;
    }

    private static string Finding(TrendAnswer answer, TrendSlope slope, AskedOf of)
    {
        IntervalEstimate e = slope.PerYear;
        bool isRate = of == AskedOf.Rate;
        string over = $"Over {answer.Campaigns.Count} campaigns at {Counted.Of(answer.Sites, "site")}";
        string which = slope.Over == TrendSlope.WithinSites ? " within sites" : "";
        string at = answer.With.Count == 0 ? "" : $", at equal {string.Join(", ", answer.With)}";
        string tail = $"P {GroupQuestion.Probability(slope.PValue)}{at}).";
        if (slope.PValue >= 0.05)
        {
            return $"{over} no change of {of.Symbol()}{which} is shown: a year may " + (isRate
                ? Invariant($"multiply it by {e.Lower95:0.000} to {e.Upper95:0.000} ({tail}")
                : Invariant($"add {e.Lower95:0.0000} to {e.Upper95:0.0000} ({tail}"));
        }

        return isRate
            ? Invariant($"{over} k{which} is {e.Value:0.000} times as high each year (95 % interval {e.Lower95:0.000} to ")
                + Invariant($"{e.Upper95:0.000}, {tail}")
            : Invariant($"{over} S{which} is {Math.Abs(e.Value):0.0000} {(e.Value < 0 ? "lower" : "higher")} each year (change ")
                + Invariant($"{e.Lower95:0.0000} to {e.Upper95:0.0000}, 95 % interval, {tail}");
    }
}
