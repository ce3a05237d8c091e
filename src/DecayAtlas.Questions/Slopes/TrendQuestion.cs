namespace DecayAtlas.Questions.Slopes;

/// <summary>What is asked of change over campaigns.</summary>
/// <param name="With">Covariates to adjust for.</param>
/// <param name="IsBySite">Of the change within sites that were dug again alone.</param>
public sealed record TrendRequest(IReadOnlyList<string> With, bool IsBySite = false);

/// <summary>Asks how k or S of untreated plots changed over campaigns, by the joint model with time fixed; site, block of sites and, from
/// three on, campaign are random.</summary>
public static class TrendQuestion
{
    // as a normal distribution; infinite ones, where all scatter is known, can't be written
    private const double ManyDegreesOfFreedom = 1e5;

    // Julian year
    private const double DaysPerYear = 365.25;

    /// <exception cref="ConfigurationException">The release has no covariate of a name.</exception>
    public static TrendAnswer Ask(ReleasedRates rates, TrendRequest request, AskedOf of = AskedOf.Rate)
    {
        Func<ReleasedPlot, double[]?> covariates = rates.Covariates(request.With);
        Func<ReleasedPlot, double?> dayOf = DaysOf(rates);
        ReleasedPlot[] untreated = [.. rates.Rows.Where(p => p.IsUntreated)];
        ReleasedPlot[] rows = [.. untreated.Where(p => covariates(p) is not null && dayOf(p) is not null)];
        ReleasedPlot[] known = [.. rows.Where(p => JointModel.Has(p, of))];
        int sites = ReleasedRates.SitesOf(known);
        int again = known.GroupBy(p => p.SiteKey).Count(g => g.Select(p => p.Campaign).Distinct().Count() > 1);
        TrendCampaign[] campaigns = CampaignsOf(known, dayOf, of);
        SlopeModel? model = null;
        TrendSlope[] slopes = [];
        string? statement = known.Length == 0
            ? $"No accepted burial in an untreated plot has {(of == AskedOf.Rate ? "k above 0" : "S")}, dates and the covariates."
            : campaigns.Length < 2
                ? $"There is 1 campaign, {campaigns[0].Campaign}: a change takes at least 2, and a trend at least "
                    + $"{ReleasedTrend.FewestCampaigns}."
            : request.IsBySite && again == 0
                ? "No site was dug in several campaigns: there is no change within sites; ask without --by-site."
            : null;
        if (statement is null)
        {
            Answer<SlopeModel> fit = Fit(out string[] over);
            model = fit.Value;
            slopes = model is null ? [] : [.. over.Select((name, i) => SlopeOf(model, i + 1, name)).OfType<TrendSlope>()];
            statement = fit.Statement?.Sentence ?? (slopes.Length == 0 ? "There are too few sites and campaigns for an interval." : null);
        }

        TrendAnswer answer = new(
            of.Code(), known.Sum(p => JointModel.BurialsOf(p, of)), sites, again,
            ReleasedRates.SitesOf(untreated.Where(p => JointModel.Has(p, of))) - sites, campaigns, statement, slopes, [])
        {
            With = request.With,
            Levels = model?.Levels ?? [],
        };
        return answer with
        {
            Sentences = [.. TrendSentences.Of(answer, request, of), .. rates.LeftOut(of).Select(w => $"Left out: {w}.")],
        };

        // the same columns for k and for S, which come from one fit
        Answer<SlopeModel> Fit(out string[] over)
        {
            double mean = MeanDay(rows);
            Func<ReleasedPlot, double> years = r => (dayOf(r)!.Value - mean) / DaysPerYear;
            Dictionary<string, double> ofSites = rows.GroupBy(r => r.SiteKey, StringComparer.Ordinal)
                .ToDictionary(g => g.Key, g => (MeanDay(g) - mean) / DaysPerYear, StringComparer.Ordinal);
            // sites that were all dug at the same times differ by no day
            bool isSpread = ofSites.Values.Max() - ofSites.Values.Min() > 1 / DaysPerYear;
            (string Over, Func<ReleasedPlot, double> Column)[] asked = !request.IsBySite ? [(TrendSlope.All, years)]
                : [(TrendSlope.WithinSites, r => years(r) - ofSites[r.SiteKey]), (TrendSlope.BetweenSites, r => ofSites[r.SiteKey])];
            if (request.IsBySite && !isSpread)
                asked = asked[..1];
            over = [.. asked.Select(a => a.Over)];
            return SlopeModel.Fit(
                rates, $"trend {string.Join(' ', over)} with {string.Join(", ", request.With)}", rows, [.. asked.Select(a => a.Column)],
                r => covariates(r)!, CampaignEffects.None, SiteBlocks.UsualDegrees, of);
        }

        double MeanDay(IEnumerable<ReleasedPlot> of) => of.Sum(r => r.Burials * dayOf(r)!.Value) / of.Sum(r => r.Burials);

        // few seasons can look as if they did not scatter at all: how surely they tell a change hangs on their number; of three, which
        // leave one degree of freedom to a change, the estimate can come out below it
        TrendSlope? SlopeOf(SlopeModel fit, int column, string over)
        {
            FixedEffect e = fit.Effect((column, 1))
                .WithAtMost(campaigns.Length < ReleasedTrend.FewestCampaigns ? ManyDegreesOfFreedom : campaigns.Length - 2, atLeast: 1);
            return e.PValue is { } p ? new TrendSlope(over, WarmthQuestion.Interval(e, of), p, e.DegreesOfFreedom) : null;
        }
    }

    /// <summary>The day in the middle between a site's first burial and last retrieval in a campaign; missing without dates.</summary>
    private static Func<ReleasedPlot, double?> DaysOf(ReleasedRates rates)
    {
        Dictionary<(string, string, string?, string), double> days = rates.SiteCampaigns.Where(c => c.FirstBuriedOn is not null)
            .ToDictionary(
                c => (c.SiteKey, c.Campaign, c.Treatment, c.Evidence),
                c => (c.FirstBuriedOn!.Value.DayNumber + (c.LastRetrievedOn ?? c.FirstBuriedOn.Value).DayNumber) / 2.0);
        return p => days.TryGetValue((p.SiteKey, p.Campaign, p.Treatment, p.Evidence), out double day) ? day : null;
    }

    private static TrendCampaign[] CampaignsOf(ReleasedPlot[] known, Func<ReleasedPlot, double?> dayOf, AskedOf of)
    {
        HashSet<string> met = new(StringComparer.Ordinal);
        return
        [
            .. known.GroupBy(p => p.Campaign, StringComparer.Ordinal)
                .Select(g => (g, Day: g.Sum(p => JointModel.BurialsOf(p, of) * dayOf(p)!.Value) / g.Sum(p => JointModel.BurialsOf(p, of))))
                .OrderBy(c => c.Day).ThenBy(c => c.g.Key, StringComparer.Ordinal)
                .Select(c => new TrendCampaign(
                    c.g.Key, DateOnly.FromDayNumber((int)c.Day), c.g.Sum(p => JointModel.BurialsOf(p, of)), ReleasedRates.SitesOf(c.g),
                    c.g.Select(p => p.SiteKey).Distinct().Count(met.Add))),
        ];
    }
}
