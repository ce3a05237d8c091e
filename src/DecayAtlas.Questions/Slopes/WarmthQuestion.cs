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
    private const string Line = "line";

    /// <param name="Code">As it is told.</param>
    /// <param name="Form">Missing for the straight line of S.</param>
    private sealed record Candidate(string Code, WarmthForm? Form, MoistureTerm Moisture)
    {
        /// <summary>A straight line lies on the scale of Q10, so that both come from one fit.</summary>
        public WarmthForm Scale => Form ?? WarmthForm.Q10;

        public double Column(double celsius) => WarmthTerm.Of(Scale, celsius);

        public bool Reaches(double celsius) => celsius > WarmthTerm.ColdestCelsius(Scale);
    }

    /// <exception cref="ConfigurationException">The release has no covariate of a name.</exception>
    public static WarmthAnswer Ask(ReleasedRates rates, WarmthRequest request, AskedOf of = AskedOf.Rate)
    {
        string? moisture = request.Moisture;
        Func<ReleasedPlot, double[]?> covariates =
            rates.Covariates([request.Temperature, .. moisture is null ? [] : (string[])[moisture], .. request.With]);
        ReleasedPlot[] untreated = [.. rates.Rows.Where(p => p.IsUntreated)], rows = [.. untreated.Where(p => covariates(p) is not null)];
        ReleasedPlot[] known = [.. rows.Where(p => JointModel.Has(p, of))];
        int all = ReleasedRates.SitesOf(untreated.Where(p => JointModel.Has(p, of)));
        WarmthSite[] sites =
        [
            .. known.GroupBy(p => p.SiteKey, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal).Select(g => new WarmthSite(
                g.Key, Told(Mean(g, p => (of == AskedOf.Rate ? p.LnRateMean : p.StabilisationMean)!.Value), of),
                Mean(g, p => covariates(p)![0]), moisture is null ? null : Mean(g, p => covariates(p)![1]))),
        ];
        int firstFurther = moisture is null ? 1 : 2;
        double moistureMean = moisture is null || rows.Length == 0 ? 0
            : rows.Sum(r => r.Burials * covariates(r)![1]) / rows.Sum(r => r.Burials);
        CampaignEffects seasons = CampaignEffects.Of(rows);
        (Candidate Candidate, SlopeModel Model, FittedWarmth Response)[] fits = [];
        string? statement = null;
        if (sites.Length > 0)
            (fits, statement) = Fits();
        if (fits.Length > 0 && request.FastOverSlow is { } over)
            Correct(over);

        (WarmedPlots? warmed, string? warmedStatement) = WarmedPlotsOf(rates, request, of);
        WarmthAnswer answer = new(
            request.Temperature, moisture, sites.Length, all - sites.Length, [.. fits.Select(f => f.Response)],
            sites.Length == 0 ? "No site has both what is asked of and the covariates." : statement, warmed, warmedStatement, [])
        {
            Of = of.Code(),
            With = request.With,
            FastOverSlow = request.FastOverSlow,
            Burials = known.Sum(p => JointModel.BurialsOf(p, of)),
            Levels = fits.Length > 0 ? fits[0].Model.Levels : [],
            Neighbours = fits.Length > 0 ? fits[0].Model.Neighbours(rates, DegreesNear(request)) : null,
            LineAt = fits.Length > 0 ? t => LineOf(fits[0].Model, fits[0].Candidate, t) : null,
            Points = sites,
        };
        return answer with
        {
            Sentences = [.. WarmthSentences.Of(answer, request, of), .. rates.LeftOut(of).Select(w => $"Left out: {w}.")],
        };

        double Mean(IEnumerable<ReleasedPlot> plots, Func<ReleasedPlot, double> value) =>
            plots.Sum(p => JointModel.BurialsOf(p, of) * value(p)) / plots.Sum(p => JointModel.BurialsOf(p, of));

        // chosen by what is asked of alone, so that S does not choose the form of k; told by both where the choice is open, and without
        // moisture, so that what moisture takes off can be seen
        ((Candidate, SlopeModel, FittedWarmth)[], string?) Fits()
        {
            List<(Candidate Candidate, SlopeModel Model, double? Aicc)> alone = new();
            string? why = null;
            foreach (Candidate c in CandidatesOf(of, moisture is not null).Where(c => rows.All(r => c.Reaches(covariates(r)![0]))))
            {
                Answer<SlopeModel> fit = Fit(c, true);
                if (fit.Value is { } model)
                    alone.Add((c, model, model.AiccOver(sites.Length)));
                else
                    why ??= fit.Statement!.Sentence;
            }

            double? least = alone.Min(f => f.Aicc);
            List<(Candidate, SlopeModel, FittedWarmth)> found = new();
            bool isBare = false;
            foreach ((Candidate c, SlopeModel own, double? aicc) in alone.OrderBy(f => f.Aicc ?? double.PositiveInfinity))
            {
                bool isFirstBare = !isBare && c.Moisture == MoistureTerm.None;
                isBare |= isFirstBare;
                SlopeModel model = aicc - least > 2 && !isFirstBare ? own : Fit(c, false).Value ?? own;
                if (ResponseOf(c, model, aicc, of) is { } response)
                    found.Add((c, model, response));
                else
                    why ??= "There are too few sites for an interval.";
            }

            return ([.. found], found.Count > 0 ? null : why ?? "A temperature lies below the coldest that the response allows.");
        }

        // of the forms that differ from the first in warmth alone
        void Correct(double fastOverSlow)
        {
            ReleasedRates corrected = FastPlateaus.Corrected(rates, fastOverSlow);
            ReleasedPlot[] now = [.. corrected.Rows.Where(p => p.IsUntreated && covariates(p) is not null)];
            for (int i = 0; i < fits.Length; i++)
            {
                (Candidate c, SlopeModel model, FittedWarmth response) = fits[i];
                if (c.Moisture == fits[0].Candidate.Moisture
                    && FitTo(corrected, now, c, isAlone: !response.IsAsGoodAs(fits[0].Response)).Value is { } found)
                {
                    fits[i] = (c, model, response with { PlateauCorrected = ResponseOf(c, found, null, of) });
                }
            }
        }

        Answer<SlopeModel> Fit(Candidate c, bool isAlone) => FitTo(rates, rows, c, isAlone);

        Answer<SlopeModel> FitTo(ReleasedRates asked, ReleasedPlot[] theirs, Candidate c, bool isAlone) => SlopeModel.Fit(
            asked, $"warmth {request.Temperature} {c.Scale} {moisture} {c.Moisture} with {string.Join(", ", request.With)}", theirs,
            [r => c.Column(covariates(r)![0])], r => [.. MoistureOf(c.Moisture, covariates(r)!), .. covariates(r)!.Skip(firstFurther)],
            seasons, request.BlockDegrees, of, isAlone);

        double[] MoistureOf(MoistureTerm term, double[] values)
        {
            double m = term == MoistureTerm.None ? 0 : values[1] - moistureMean;
            return term switch
            {
                MoistureTerm.None => [],
                MoistureTerm.Linear => [m],
                _ => [m, m * m],
            };
        }
    }

    /// <summary>How near sites are held against each other: within the side of a block.</summary>
    internal static double DegreesNear(WarmthRequest request) =>
        request.BlockDegrees > 0 ? request.BlockDegrees : SiteBlocks.UsualDegrees;

    private static IEnumerable<Candidate> CandidatesOf(AskedOf of, bool hasMoisture)
    {
        MoistureTerm[] terms = hasMoisture ? Enum.GetValues<MoistureTerm>() : [MoistureTerm.None];
        return of == AskedOf.Stabilisation ? terms.Select(t => new Candidate(Line, null, t))
            : Enum.GetValues<WarmthForm>().SelectMany(f => terms.Select(t => new Candidate(WarmthTerm.NameOf(f), f, t)));
    }

    private static FittedWarmth? ResponseOf(Candidate c, SlopeModel model, double? aicc, AskedOf of)
    {
        FixedEffect slope = model.Effect((1, 1)), ten = model.Effect((1, c.Column(20) - c.Column(10)));
        if (slope.Lower95 is null || ten.Lower95 is null)
            return null;
        return new FittedWarmth(
            c.Code, Atlas.AtlasCode.Of(c.Moisture), Interval(slope, c.Form == WarmthForm.Q10 ? AskedOf.Rate : AskedOf.Stabilisation),
            Interval(ten, of), model.ShareExplained, aicc)
        {
            AtTenCelsius = Told(model.Effect((0, 1)).Value, of),
        };
    }

    private static IntervalEstimate LineOf(SlopeModel model, Candidate c, double celsius)
    {
        FixedEffect at = model.Effect((0, 1), (1, c.Column(celsius)));
        AskedOf of = c.Form is null ? AskedOf.Stabilisation : AskedOf.Rate;
        double value = Told(at.Value, of);
        return at.Lower95 is null ? new IntervalEstimate(value, value, value) : Interval(at, of);
    }

    internal static IntervalEstimate Interval(FixedEffect e, AskedOf of) =>
        new(Told(e.Value, of), Told(e.Lower95!.Value, of), Told(e.Upper95!.Value, of));

    private static double Told(double x, AskedOf of) => of == AskedOf.Rate ? Math.Exp(x) : x;

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
