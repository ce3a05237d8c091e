using MathNet.Numerics.LinearAlgebra;

namespace DecayAtlas.Questions.Answers;

/// <summary>A kind of unit that burials lie in.</summary>
/// <param name="UnitOf">Of a row; names are told apart over all rows.</param>
internal sealed record UnitLevel(string Name, Func<ReleasedPlot, string> UnitOf)
{
    public static UnitLevel Site { get; } = new("site", p => p.SiteKey);

    /// <summary>What a season does to all sites alike.</summary>
    public static UnitLevel Campaign { get; } = new("campaign", p => p.Campaign);

    /// <summary>What a season does to one site more than to others.</summary>
    public static UnitLevel CampaignAtSite { get; } = new("campaign at site", p => $"{p.SiteKey}\u001f{p.Campaign}");

    public static UnitLevel Plot { get; } = new("plot", p => $"{p.SiteKey}\u001f{p.Campaign}\u001f{p.Treatment}\u001f{p.Plot}");

    public const string Burial = "burial";
}

/// <summary>
/// The one model behind the answers: ln k and S of burials together, in units of several kinds, the errors of their weighings, batches and
/// lots as known (<see cref="MixedModel"/>).
/// </summary>
internal sealed class JointModel
{
    private readonly MixedFit _fit;
    private readonly int _outcome;

    private JointModel(MixedFit fit, int outcome, IReadOnlyList<string> levels) => (_fit, _outcome, Levels) = (fit, outcome, levels);

    /// <summary>Kinds of units whose variance was fitted; what else there is lies in that of burials.</summary>
    public IReadOnlyList<string> Levels { get; }

    /// <summary>Fits the model as far as the data hold its levels: one that never splits another, or of which each unit holds one burial,
    /// is left out, and so is the season where it can't be told.</summary>
    /// <param name="question">What is asked, the same for k and S: both then come from one fit.</param>
    /// <param name="rows">That have what is asked of or the other of both.</param>
    /// <param name="levels">Top to bottom.</param>
    /// <param name="fixedEffects">Row of X.</param>
    /// <param name="required">How many of the first levels stay, so that it is said where the data can't tell them.</param>
    /// <param name="isAlone">Of what is asked of only.</param>
    public static Answer<JointModel> Fit(
        ReleasedRates rates, string question, IReadOnlyList<ReleasedPlot> rows, IReadOnlyList<UnitLevel> levels,
        Func<ReleasedPlot, IReadOnlyList<double>> fixedEffects, AskedOf of, int required = 0, bool isAlone = false)
    {
        UnitLevel[] held = Held([.. rows.Where(r => Has(r, of))], levels, required);
        Answer<JointModel> answer = Fit(held);
        return answer.Value is null && held.Contains(UnitLevel.Campaign) && Fit([.. held.Where(l => l != UnitLevel.Campaign)]) is
        { Value: not null } without ? without : answer;

        // S helps to tell k and k to tell S, but neither must keep the other from an answer
        Answer<JointModel> Fit(UnitLevel[] kept)
        {
            Answer<JointModel> both = isAlone ? default : FitOf(rows, kept, outcomes: 2);
            if (!isAlone && both.Value is null && rows.Any(r => r.RateState == ReleasedPlot.AtLeast))
                both = FitOf([.. rows.Where(r => r.RateState != ReleasedPlot.AtLeast)], kept, outcomes: 2);
            return both.Value is not null ? both : FitOf(rows, kept, outcomes: 1);
        }

        Answer<JointModel> FitOf(IReadOnlyList<ReleasedPlot> all, UnitLevel[] kept, int outcomes)
        {
            bool isOne = outcomes == 1;
            MixedRecord[] records = [.. all.Where(r => isOne ? Has(r, of) : r.LnRateMean is not null || r.StabilisationMean is not null)
                .Select(r => rates.RecordOf(r, [.. kept.Select(l => l.UnitOf(r))], fixedEffects(r)))
                .Select(r => isOne && of == AskedOf.Stabilisation ? Alone(r) : r)];
            MixedFactor[] factors = [.. kept.Select(l => new MixedFactor(l.Name))];
            Answer<MixedFit> answer = isOne ? MixedModel.Fit(records, factors, 1)
                : rates.Fit(
                    $"{question}; {string.Join(", ", kept.Select(l => l.Name))}{(all.Count < rows.Count ? "; known alone" : "")}",
                    records, factors);
            return answer.Value is { } fit
                ? new JointModel(fit, isOne ? 0 : (int)of, [.. kept.Select(l => l.Name)])
                : answer.Statement!;
        }
    }

    /// <summary>Whether a row has what is asked of.</summary>
    public static bool Has(ReleasedPlot row, AskedOf of) => (of == AskedOf.Rate ? row.LnRateMean : row.StabilisationMean) is not null;

    /// <summary>Burials of a row that have it.</summary>
    public static int BurialsOf(ReleasedPlot row, AskedOf of) => of == AskedOf.Rate ? row.LnRateBurials : row.StabilisationBurials;

    /// <summary>How many burials at their plateau a set of rows has, whose k is at least a number.</summary>
    public static int AtLeastOf(IEnumerable<ReleasedPlot> rows) => rows.Count(r => r.RateState == ReleasedPlot.AtLeast);

    public FixedEffect Effect(IReadOnlyList<double> contrast) => _fit.Effect(_outcome, contrast);

    /// <summary>β of what is asked of, in the order of X.</summary>
    public IReadOnlyList<double> FixedEffects => _fit.FixedEffects(_outcome);

    /// <summary>-2 log likelihood at the variances found, of a model of one outcome: that of restricted likelihood,
    /// + log|cov(β)| + p log 2π.</summary>
    public double Deviance
    {
        get
        {
            Matrix<double> covariance = _fit.FixedCovariance(0);
            return _fit.RestrictedDeviance + covariance.Cholesky().DeterminantLn + covariance.RowCount * Math.Log(2 * Math.PI);
        }
    }

    /// <summary>Of the levels, the burial last.</summary>
    public IReadOnlyList<(string Level, int Units, double Variance, double Share)> Variances =>
    [
        .. _fit.Components.Select((c, i) => (i < Levels.Count ? c.Name : UnitLevel.Burial, c.Units, c.Variance(_outcome),
            _outcome == 0 ? c.FirstShare : c.SecondShare)),
    ];

    public (double Lower, double Upper)? ShareInterval(string level) => _fit.ShareInterval(NameOf(level), _outcome);

    /// <summary>Values of the units of a level, with what they stand in.</summary>
    public IEnumerable<UnitValue> Values(string level, params string[] together) =>
        _fit.Values(level, together).Where(v => v.Outcome == _outcome);

    private static string NameOf(string level) => level == UnitLevel.Burial ? "residual" : level;

    private static MixedRecord Alone(MixedRecord r) => r with
    {
        First = r.Second,
        Second = null,
        FirstIsAtLeast = false,
        Error = new OutcomeCovariance(r.Error.Second),
        Shared = [.. r.Shared.Select(s => new SharedLoading(s.Quantity, s.OnSecond))],
        SharedHere = [.. r.SharedHere.Select(s => new SharedLoading(s.Quantity, s.OnSecond))],
        SumsOfSquares = new OutcomeCovariance(r.SumsOfSquares.Second),
    };

    private static UnitLevel[] Held(ReleasedPlot[] rows, IReadOnlyList<UnitLevel> levels, int required)
    {
        int burials = rows.Sum(r => r.Burials);
        List<UnitLevel> held = new();
        HashSet<string> partitions = new(StringComparer.Ordinal);
        foreach ((UnitLevel level, int i) in levels.Select((l, i) => (l, i)))
        {
            Dictionary<string, int> numbers = new(StringComparer.Ordinal);
            foreach (ReleasedPlot row in rows)
                numbers.TryAdd(level.UnitOf(row), numbers.Count);
            bool isSplit = numbers.Count >= (level == UnitLevel.Campaign ? ReleasedTrend.FewestCampaigns : 2) && numbers.Count < burials
                && partitions.Add(string.Join(',', rows.Select(r => numbers[level.UnitOf(r)])));
            if (isSplit || i < required)
                held.Add(level);
        }

        return [.. held];
    }
}
