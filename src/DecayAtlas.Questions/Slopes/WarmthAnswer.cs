namespace DecayAtlas.Questions.Slopes;

/// <summary>One response to temperature, fitted over sites.</summary>
/// <param name="Form">q10, arrhenius or lloyd-taylor; of S line.</param>
/// <param name="Moisture">none, linear or quadratic.</param>
/// <param name="Sensitivity">Q10 (1), activation energy (kJ mol⁻¹) or E0 (K); of S its change per 10 K; with its 95 % interval.</param>
/// <param name="PerTenKelvin">By how much k multiplies from 10 to 20 °C; how S changes.</param>
/// <param name="ShareExplained">Share of the variance of burials that temperature and all that was adjusted for explain.</param>
/// <param name="Aicc">Missing with too few sites.</param>
public sealed record FittedWarmth(string Form, string Moisture, IntervalEstimate Sensitivity, IntervalEstimate PerTenKelvin,
    double ShareExplained, double? Aicc)
{
    /// <summary>At 10 °C and the mean of all else: k (d⁻¹) or S.</summary>
    public double AtTenCelsius { get; init; }

    /// <summary>The same with k and S corrected for a fast litter that falls short of its plateau; missing where not asked, and where the
    /// term of moisture is not that of the first response.</summary>
    public FittedWarmth? PlateauCorrected { get; init; }

    /// <summary>k (d⁻¹) or S at a temperature by the curve, at the mean of all else.</summary>
    internal double At(double celsius) => WarmthTerm.FormOf(Form) is not { } form
        ? AtTenCelsius + Sensitivity.Value * WarmthTerm.Of(WarmthForm.Q10, celsius)
        : AtTenCelsius
            * Math.Exp((form == WarmthForm.Q10 ? Math.Log(Sensitivity.Value) : Sensitivity.Value) * WarmthTerm.Of(form, celsius));

    /// <summary>Within 2 AICc the data do not choose between forms (Burnham and Anderson 2002, from memory).</summary>
    internal bool IsAsGoodAs(FittedWarmth best) => Aicc - best.Aicc <= 2;
}

/// <summary>Warmed plots beside untreated ones, as <c>compare --by treatment</c> compares them.</summary>
/// <param name="Sites">Where both lay.</param>
/// <param name="RateRatio">k warmed over k untreated; missing for S.</param>
/// <param name="Difference">S warmed less S untreated; missing for k.</param>
/// <param name="Q10">From the stated warming; missing where none is stated, and for S.</param>
/// <param name="PerTenKelvin">The difference of S so.</param>
public sealed record WarmedPlots(
    int Sites, IntervalEstimate? RateRatio, IntervalEstimate? Difference, double PValue, IntervalEstimate? Q10,
    IntervalEstimate? PerTenKelvin)
{
    /// <summary>Of k or of S.</summary>
    internal IntervalEstimate Contrast => RateRatio ?? Difference!.Value;
}

/// <summary>Burials set aside for nothing but a fast litter that had not reached its plateau: mostly in cold or dry ground, so that an
/// answer without them lacks an end of what it is about.</summary>
/// <param name="MeanCelsius">Temperature of their sites, by burials; missing where it is not known.</param>
public sealed record SetAsideBurials(int Burials, int Sites, double? MeanCelsius);

/// <summary>One site as it is drawn.</summary>
/// <param name="Value">Geometric mean of k (d⁻¹) or mean S.</param>
public sealed record WarmthSite(string SiteKey, double Value, double TemperatureCelsius, double? Moisture);

/// <summary>What a release says of warmth: numbers, or statements why there are none.</summary>
/// <param name="SitesLeftOut">Sites with what is asked of where a covariate is missing or withheld.</param>
/// <param name="Responses">The lowest AICc first.</param>
public sealed record WarmthAnswer(
    string Temperature, string? MoistureBy, int Sites, int SitesLeftOut, IReadOnlyList<FittedWarmth> Responses, string? Statement,
    WarmedPlots? Warmed, string? WarmedStatement, IReadOnlyList<string> Sentences)
{
    public string Of { get; init; } = AskedOf.Rate.Code();

    /// <summary>Further covariates adjusted for, as straight lines.</summary>
    public IReadOnlyList<string> With { get; init; } = [];

    public int Burials { get; init; }

    /// <summary>Temperature of the sites that took part, by burials; missing where none did.</summary>
    public double? MeanCelsius { get; init; }

    /// <summary>Missing where there are none.</summary>
    public SetAsideBurials? SetAside { get; init; }

    /// <summary>Kinds of units whose scatter the intervals hold, beside that of burials and their known errors.</summary>
    public IReadOnlyList<string> Levels { get; init; } = [];

    /// <summary>The best of the responses, those that are as good, and the best that leaves moisture out.</summary>
    internal IEnumerable<(FittedWarmth Response, int Rank)> Told => Responses.Select((r, i) => (Response: r, Rank: i + 1)).Where(t =>
        t.Rank == 1 || t.Response.IsAsGoodAs(Responses[0])
        || t.Response == Responses.FirstOrDefault(r => r.Moisture == ReleasedWarmth.Bare));

    /// <summary>The change from 10 to 20 °C over all forms between which the data do not choose, weighed by AICc, the choice in its
    /// interval; missing where one form stands alone.</summary>
    /// <remarks>√var = Σ w_i √(var_i + (θ_i - θ̄)²), w_i ∝ exp(-Δ_i/2), on the scale of ln k or S: Burnham and Anderson 2002, Model
    /// Selection and Multimodel Inference, 4.3.2 (from memory).</remarks>
    public IntervalEstimate? OverForms
    {
        get
        {
            FittedWarmth[] forms = [.. Responses.Where(r => r.IsAsGoodAs(Responses[0]))];
            if (forms.Length < 2)
                return null;
            (double Value, double Half)[] told = [.. forms.Select(f => (Own(f.PerTenKelvin.Value),
                (Own(f.PerTenKelvin.Upper95) - Own(f.PerTenKelvin.Lower95)) / 2))];
            double[] weights = [.. forms.Select(f => Math.Exp((Responses[0].Aicc!.Value - f.Aicc!.Value) / 2))];
            double all = weights.Sum(), mean = weights.Zip(told, (w, t) => w * t.Value).Sum() / all;
            // of a half of 1.96 standard errors
            double half = weights.Zip(told, (w, t) => w * Math.Sqrt(t.Half * t.Half + Math.Pow(1.96 * (t.Value - mean), 2))).Sum() / all;
            return new(Back(mean), Back(mean - half), Back(mean + half));

            double Own(double x) => Of == AskedOf.Rate.Code() ? Math.Log(x) : x;

            double Back(double x) => Of == AskedOf.Rate.Code() ? Math.Exp(x) : x;
        }
    }

    /// <summary>How sites resemble those near them in what is left.</summary>
    public MoransI? Neighbours { get; init; }

    /// <summary>By the first of the responses: k or S at a temperature, at the mean of all else.</summary>
    internal Func<double, IntervalEstimate>? LineAt { get; init; }

    /// <summary>What <see cref="FittedWarmth.PlateauCorrected"/> is corrected for; missing where not asked.</summary>
    internal double? FastOverSlow { get; init; }

    internal IReadOnlyList<WarmthSite> Points { get; init; } = [];
}
