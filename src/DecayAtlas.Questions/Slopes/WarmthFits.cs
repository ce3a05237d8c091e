namespace DecayAtlas.Questions.Slopes;

/// <summary>A form of the response to warmth.</summary>
/// <param name="Code">As it is told.</param>
/// <param name="Form">Missing for the straight line of S.</param>
internal sealed record WarmthCandidate(string Code, WarmthForm? Form, MoistureTerm Moisture)
{
    private const string Line = "line";

    /// <summary>A straight line lies on the scale of Q10, so that both come from one fit.</summary>
    public WarmthForm Scale => Form ?? WarmthForm.Q10;

    public string MoistureCode => AtlasCode.Of(Moisture);

    public double Column(double celsius) => WarmthTerm.Of(Scale, celsius);

    public bool Reaches(double celsius) => celsius > WarmthTerm.ColdestCelsius(Scale);

    public static IEnumerable<WarmthCandidate> Of(AskedOf of, bool hasMoisture)
    {
        MoistureTerm[] terms = hasMoisture ? Enum.GetValues<MoistureTerm>() : [MoistureTerm.None];
        return of == AskedOf.Stabilisation ? terms.Select(t => new WarmthCandidate(Line, null, t))
            : Enum.GetValues<WarmthForm>().SelectMany(f => terms.Select(t => new WarmthCandidate(WarmthTerm.NameOf(f), f, t)));
    }
}

/// <summary>Fits forms of the response to the untreated plots that have the covariates of a request.</summary>
internal sealed record WarmthFits
{
    private readonly WarmthRequest _request;
    private readonly AskedOf _of;
    private readonly double _moistureMean;
    private readonly CampaignEffects _seasons;

    public WarmthFits(ReleasedRates rates, WarmthRequest request, AskedOf of)
    {
        (Rates, _request, _of) = (rates, request, of);
        string[] moisture = request.Moisture is { } m ? [m] : [];
        Covariates = rates.Covariates([request.Temperature, .. moisture, .. request.With]);
        Rows = RowsOf(rates);
        _moistureMean = moisture.Length == 0 || Rows.Length == 0 ? 0
            : Rows.Sum(r => r.Burials * Covariates(r)![1]) / Rows.Sum(r => r.Burials);
        _seasons = CampaignEffects.Of(Rows);
    }

    /// <summary>Temperature, moisture where one is asked for, further ones; missing where one is missing or withheld.</summary>
    public Func<ReleasedPlot, double[]?> Covariates { get; }

    public ReleasedPlot[] Rows { get; private init; }

    private ReleasedRates Rates { get; init; }

    private bool HasMoisture => _request.Moisture is not null;

    /// <summary>Of other rates of the same release, held at the same moisture.</summary>
    public WarmthFits To(ReleasedRates rates) => this with { Rates = rates, Rows = RowsOf(rates) };

    /// <summary>The forms that reach all temperatures.</summary>
    public IEnumerable<WarmthCandidate> Candidates =>
        WarmthCandidate.Of(_of, HasMoisture).Where(c => Rows.All(r => c.Reaches(Covariates(r)![0])));

    /// <param name="isAlone">Of what is asked of only, so that likelihoods compare.</param>
    public Answer<SlopeModel> Fit(WarmthCandidate c, bool isAlone) => SlopeModel.Fit(
        Rates, $"warmth {_request.Temperature} {c.Scale} {_request.Moisture} {c.Moisture} with {string.Join(", ", _request.With)}", Rows,
        [r => c.Column(Covariates(r)![0])],
        r => [.. MoistureOf(c.Moisture, Covariates(r)!), .. Covariates(r)!.Skip(HasMoisture ? 2 : 1)], _seasons, _request.BlockDegrees, _of,
        isAlone);

    /// <summary>The same form by k and S together; missing where it can't be told.</summary>
    public FittedWarmth? Again(FittedWarmth response) =>
        Candidates.FirstOrDefault(c => (c.Code, c.MoistureCode) == (response.Form, response.Moisture)) is { } c
        && Fit(c, isAlone: false).Value is { } model ? ResponseOf(c, model, null) : null;

    public FittedWarmth? ResponseOf(WarmthCandidate c, SlopeModel model, double? aicc)
    {
        FixedEffect slope = model.Effect((1, 1)), ten = model.Effect((1, c.Column(20) - c.Column(10)));
        if (slope.Lower95 is null || ten.Lower95 is null)
            return null;
        return new FittedWarmth(
            c.Code, c.MoistureCode,
            WarmthQuestion.Interval(slope, c.Form == WarmthForm.Q10 ? AskedOf.Rate : AskedOf.Stabilisation),
            WarmthQuestion.Interval(ten, _of), model.ShareExplained, aicc)
        {
            AtTenCelsius = WarmthQuestion.Told(model.Effect((0, 1)).Value, _of),
        };
    }

    private ReleasedPlot[] RowsOf(ReleasedRates rates) => [.. rates.Rows.Where(p => p.IsUntreated && Covariates(p) is not null)];

    private double[] MoistureOf(MoistureTerm term, double[] values)
    {
        double m = term == MoistureTerm.None ? 0 : values[1] - _moistureMean;
        return term switch
        {
            MoistureTerm.None => [],
            MoistureTerm.Linear => [m],
            _ => [m, m * m],
        };
    }
}
