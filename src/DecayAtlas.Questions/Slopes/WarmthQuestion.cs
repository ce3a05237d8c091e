namespace DecayAtlas.Questions.Slopes;

/// <summary>What is asked of warmth.</summary>
/// <param name="Temperature">Covariate (°C).</param>
/// <param name="Moisture">Covariate; null for none.</param>
/// <param name="With">Further covariates to adjust for.</param>
/// <param name="BlockDegrees">Side of the blocks of sites whose scatter is fitted; 0 for none.</param>
/// <param name="Warmed">The treatment of warmed plots.</param>
/// <param name="WarmingKelvin">Where known.</param>
/// <param name="FastOverSlow">The fast litter's rate over that of the slow one, as k and S are also corrected for; null not to.</param>
public sealed record WarmthRequest(
    string Temperature, string? Moisture, IReadOnlyList<string> With, double BlockDegrees = SiteBlocks.UsualDegrees,
    string Warmed = "warmed", double? WarmingKelvin = null, double? FastOverSlow = null);

/// <summary>Asks how k rises, or S moves, with warmth: over the untreated plots of all sites, and in warmed plots beside untreated ones,
/// both by the joint model.</summary>
public static class WarmthQuestion
{
    /// <summary>Why it can't be asked of a release, in a sentence; missing where it can.</summary>
    public static string? RefusalOf(ReleasedRates rates, WarmthRequest request) =>
        rates.KnownCovariates.RefusalAsTemperature(request.Temperature)
        ?? rates.KnownCovariates.RefusalOf([.. request.Moisture is { } moisture ? (string[])[moisture] : [], .. request.With]);

    /// <exception cref="ConfigurationException">The release has no covariate of a name, it is a class, or the temperature is in another
    /// unit than degC.</exception>
    public static WarmthAnswer Ask(ReleasedRates rates, WarmthRequest request, AskedOf of = AskedOf.Rate)
    {
        if (RefusalOf(rates, request) is { } refusal)
            throw new ConfigurationException(refusal);
        WarmthFits all = new(rates, request, of);
        Func<ReleasedPlot, double[]?> covariates = all.Covariates;
        ReleasedPlot[] known = [.. all.Rows.Where(p => JointModel.Has(p, of))];
        int sitesWith = ReleasedRates.SitesOf(rates.Rows.Where(p => p.IsUntreated && JointModel.Has(p, of)));
        WarmthSite[] sites =
        [
            .. known.GroupBy(p => p.SiteKey, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal).Select(g => new WarmthSite(
                g.Key, Told(Mean(g, p => (of == AskedOf.Rate ? p.LnRateMean : p.StabilisationMean)!.Value), of),
                Mean(g, p => covariates(p)![0]), request.Moisture is null ? null : Mean(g, p => covariates(p)![1]))),
        ];
        (WarmthCandidate Candidate, SlopeModel Model, FittedWarmth Response)[] fits = [];
        string? statement = null;
        if (sites.Length > 0)
            (fits, statement) = Fits();
        if (fits.Length > 0 && request.FastOverSlow is { } over)
            Correct(over);

        (WarmedPlots? warmed, string? warmedStatement) = WarmedPlotsOf(rates, request, of);
        WarmthAnswer answer = new(
            request.Temperature, request.Moisture, sites.Length, sitesWith - sites.Length, [.. fits.Select(f => f.Response)],
            sites.Length == 0 ? "No site has both what is asked of and the covariates." : statement, warmed, warmedStatement, [])
        {
            Of = of.Code(),
            With = request.With,
            FastOverSlow = request.FastOverSlow,
            Burials = known.Sum(p => JointModel.BurialsOf(p, of)),
            MeanCelsius = known.Length == 0 ? null : Mean(known, p => covariates(p)![0]),
            SetAside = SetAsideOf(rates, request),
            Levels = fits.Length > 0 ? fits[0].Model.Levels : [],
            Neighbours = fits.Length > 0 ? fits[0].Model.Neighbours(rates, DegreesNear(request)) : null,
            LineAt = fits.Length > 0 ? t => LineOf(fits[0].Model, fits[0].Candidate, t) : null,
            Points = sites,
        };
        return answer with
        {
            Sentences =
            [
                .. WarmthSentences.Of(answer, request, of), .. rates.LeftOut(of, isPlateauTold: true).Select(w => $"Left out: {w}."),
            ],
        };

        double Mean(IEnumerable<ReleasedPlot> plots, Func<ReleasedPlot, double> value) =>
            plots.Sum(p => JointModel.BurialsOf(p, of) * value(p)) / plots.Sum(p => JointModel.BurialsOf(p, of));

        // chosen by what is asked of alone, so that S does not choose the form of k; told by both where the choice is open, and without
        // moisture, so that what moisture takes off can be seen
        ((WarmthCandidate, SlopeModel, FittedWarmth)[], string?) Fits()
        {
            List<(WarmthCandidate Candidate, SlopeModel Model, double? Aicc)> alone = new();
            string? why = null;
            foreach (WarmthCandidate c in all.Candidates)
            {
                Answer<SlopeModel> fit = all.Fit(c, true);
                if (fit.Value is { } model)
                    alone.Add((c, model, model.AiccOver(sites.Length)));
                else
                    why ??= fit.Statement!.Sentence;
            }

            double? least = alone.Min(f => f.Aicc);
            List<(WarmthCandidate, SlopeModel, FittedWarmth)> found = new();
            bool isBare = false;
            foreach ((WarmthCandidate c, SlopeModel own, double? aicc) in alone.OrderBy(f => f.Aicc ?? double.PositiveInfinity))
            {
                bool isFirstBare = !isBare && c.Moisture == MoistureTerm.None;
                isBare |= isFirstBare;
                SlopeModel model = aicc - least > 2 && !isFirstBare ? own : all.Fit(c, false).Value ?? own;
                if (all.ResponseOf(c, model, aicc) is { } response)
                    found.Add((c, model, response));
                else
                    why ??= "There are too few sites for an interval.";
            }

            return ([.. found], found.Count > 0 ? null : why ?? "A temperature lies below the coldest that the response allows.");
        }

        // of the forms that differ from the first in warmth alone
        void Correct(double fastOverSlow)
        {
            WarmthFits corrected = all.To(FastPlateaus.Corrected(rates, fastOverSlow));
            for (int i = 0; i < fits.Length; i++)
            {
                (WarmthCandidate c, SlopeModel model, FittedWarmth response) = fits[i];
                if (c.Moisture == fits[0].Candidate.Moisture
                    && corrected.Fit(c, isAlone: !response.IsAsGoodAs(fits[0].Response)).Value is { } found)
                {
                    fits[i] = (c, model, response with { PlateauCorrected = corrected.ResponseOf(c, found, null) });
                }
            }
        }
    }

    /// <summary>Burials that would tell of untreated plots, had they lain longer; missing where there are none.</summary>
    private static SetAsideBurials? SetAsideOf(ReleasedRates rates, WarmthRequest request)
    {
        (ReleasedSiteCampaign Row, double? Celsius)[] aside =
        [
            .. rates.SetAsideForPlateau.Where(c => c.IsUntreated).Select(c => (
                c, rates.KnownCovariates.Of(c.SiteKey, c.Campaign, c.Treatment, request.Temperature))),
        ];
        double placed = aside.Sum(a => a.Celsius is null ? 0 : a.Row.PlateauNotReachedBurials);
        return aside.Length == 0 ? null : new SetAsideBurials(
            aside.Sum(a => a.Row.PlateauNotReachedBurials), aside.Select(a => a.Row.SiteKey).Distinct(StringComparer.Ordinal).Count(),
            placed > 0 ? aside.Sum(a => a.Row.PlateauNotReachedBurials * (a.Celsius ?? 0)) / placed : null);
    }

    /// <summary>How near sites are held against each other: within the side of a block.</summary>
    internal static double DegreesNear(WarmthRequest request) =>
        request.BlockDegrees > 0 ? request.BlockDegrees : SiteBlocks.UsualDegrees;

    private static IntervalEstimate LineOf(SlopeModel model, WarmthCandidate c, double celsius)
    {
        FixedEffect at = model.Effect((0, 1), (1, c.Column(celsius)));
        AskedOf of = c.Form is null ? AskedOf.Stabilisation : AskedOf.Rate;
        double value = Told(at.Value, of);
        return at.Lower95 is null ? new IntervalEstimate(value, value, value) : Interval(at, of);
    }

    internal static IntervalEstimate Interval(FixedEffect e, AskedOf of) =>
        new(Told(e.Value, of), Told(e.Lower95!.Value, of), Told(e.Upper95!.Value, of));

    internal static double Told(double x, AskedOf of) => of == AskedOf.Rate ? Math.Exp(x) : x;

    private static (WarmedPlots? Warmed, string? Statement) WarmedPlotsOf(ReleasedRates rates, WarmthRequest request, AskedOf of)
    {
        int sites = rates.Rows.Where(p => JointModel.Has(p, of)).GroupBy(p => p.SiteKey)
            .Count(g => g.Any(p => p.Treatment == request.Warmed) && g.Any(p => p.IsUntreated));
        if (sites == 0)
            return (null, $"No site has accepted burials in plots of treatment {request.Warmed} and in untreated ones.");
        GroupAnswer answer = GroupQuestion.Ask(rates, "treatment", [], of);
        if (answer.Statement is { } statement)
            return (null, statement);
        GroupPair? pair = answer.Pairs.FirstOrDefault(p =>
            (p.First, p.Second) == (GroupQuestion.Untreated, request.Warmed)
            || (p.First, p.Second) == (request.Warmed, GroupQuestion.Untreated));
        if (pair is not { Lower95: { } lower, Upper95: { } upper, PValue: { } p })
            return (null, "There are too few sites with warmed plots for an interval.");
        bool isRate = of == AskedOf.Rate, turned = pair.First == request.Warmed;
        IntervalEstimate log = isRate ? new(Math.Log(pair.Contrast), Math.Log(lower), Math.Log(upper)) : new(pair.Contrast, lower, upper);
        if (turned)
            log = new(-log.Value, -log.Upper95, -log.Lower95);
        IntervalEstimate contrast = Told(log, 1);
        IntervalEstimate? ten = request.WarmingKelvin is { } kelvin ? Told(log, 10 / kelvin) : null;
        return (new WarmedPlots(
            sites, isRate ? contrast : null, isRate ? null : contrast, p, isRate ? ten : null, isRate ? null : ten), null);

        IntervalEstimate Told(IntervalEstimate e, double times) => new(
            WarmthQuestion.Told(e.Value * times, of), WarmthQuestion.Told(e.Lower95 * times, of),
            WarmthQuestion.Told(e.Upper95 * times, of));
    }
}
