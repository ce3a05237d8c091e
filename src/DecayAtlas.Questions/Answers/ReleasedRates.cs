using System.Collections.Concurrent;

namespace DecayAtlas.Questions.Answers;

/// <summary>What questions are asked of: ln k and S of a release by plot, their errors, and what is known of their sites.</summary>
public sealed class ReleasedRates
{
    private static readonly string Weighed = AtlasCode.Of(EvidenceKind.Weighed);

    private readonly IReleasedRows _release;
    private readonly EvidenceChoice _evidence;
    private readonly Dictionary<string, ReleasedSite> _sites;
    private readonly Lazy<IReadOnlyList<ReleasedCurve>> _curves;
    private readonly Lazy<ReleasedCovariates> _covariates;
    private readonly Lazy<IReadOnlyList<ReleasedSiteCampaign>> _siteCampaigns;
    private readonly IReadOnlyList<string> _otherEvidence;
    private readonly ConcurrentDictionary<string, Answer<MixedFit>> _fits = new(StringComparer.Ordinal);

    // what was nearly the same, whose variances a search starts at, or takes as they are
    private readonly ReleasedRates? _near;

    private readonly bool _isSupposed;

    private readonly Lazy<ILookup<(string, string, string?, string, string), (SharedLoading Mean, SharedLoading Here)>> _shared;

    private readonly Lazy<ReleasedRates> _withoutNoted;

    /// <param name="release">A release, or tables that are on their way into one.</param>
    /// <param name="evidence">The kinds of evidence to take; the usual ones where none is given.</param>
    public ReleasedRates(IReleasedRows release, EvidenceChoice? evidence = null)
    {
        _release = release;
        _sites = release.Rows(AtlasTables.Sites).ToDictionary(s => s.SiteKey, StringComparer.Ordinal);
        _curves = new(() => release.Rows(AtlasTables.Curves));
        _covariates = new(() => new ReleasedCovariates(release));
        _siteCampaigns = new(() => release.Rows(AtlasTables.SiteCampaigns));
        _evidence = evidence ?? EvidenceChoice.Usual;
        IReadOnlyList<ReleasedPlot> plots = release.Rows(AtlasTables.Plots);
        Rows = _evidence.Choose(plots);
        Plots = Known(Rows);
        _otherEvidence =
        [
            .. ByEvidence(plots.Where(p => p.LnRateBurials > 0).Except(Plots)).Select(k => $"{Counted.Of(k.Value, "burial")} {Told(k.Key)} "
                + (_evidence.Kinds.Contains(k.Key) ? "of places and campaigns that stronger evidence speaks of" : "(answers.evidence)")),
        ];
        Noted = _evidence.Kinds.Contains(Weighed) ? release.Rows(AtlasTables.Noted) : [];
        _shared = new(() => SharedBy(release.Rows(AtlasTables.SharedErrors)));
        _withoutNoted = new(LeaveOutNoted);
    }

    private ReleasedRates(
        ReleasedRates all, IReadOnlyList<ReleasedPlot> rows, Lazy<IReadOnlyList<ReleasedCurve>> curves, bool isSupposed) =>
        (_near, _isSupposed, _release, _evidence, _sites, _curves, _covariates, _siteCampaigns, _otherEvidence, _shared, Rows, Plots,
            Noted, _withoutNoted) =
            (all, isSupposed, all._release, all._evidence, all._sites, curves, all._covariates, all._siteCampaigns, all._otherEvidence,
            all._shared, rows, Known(rows), [], new(LeaveOutNoted));

    /// <summary>All rows of the evidence taken: with k known, known to be at least a number, or none.</summary>
    public IReadOnlyList<ReleasedPlot> Rows { get; }

    /// <summary>The joint model of a question, fitted once for k and S.</summary>
    /// <param name="question">With its levels.</param>
    internal Answer<MixedFit> Fit(string question, IReadOnlyList<MixedRecord> records, IReadOnlyList<MixedFactor> factors) =>
        _fits.GetOrAdd(question, _ =>
        {
            MixedFit? near = _near?.FittedTo(question);
            return _isSupposed && near is not null
                ? MixedModel.FitAsIn(near, records, factors, 2) : MixedModel.Fit(records, factors, 2, near);
        });

    private MixedFit? FittedTo(string question) =>
        _fits.TryGetValue(question, out Answer<MixedFit> fit) && fit.Value is { } found ? found : _near?.FittedTo(question);

    /// <summary>Those with ln k.</summary>
    public IReadOnlyList<ReleasedPlot> Plots { get; }

    private static ReleasedPlot[] Known(IReadOnlyList<ReleasedPlot> rows) => [.. rows.Where(r => r.LnRateBurials > 0)];

    /// <summary>A row as the joint model of ln k and S takes it, the errors of its lots and batches as known.</summary>
    /// <param name="units">One for each random factor.</param>
    /// <param name="fixedEffects">Row of X.</param>
    internal MixedRecord RecordOf(ReleasedPlot row, IReadOnlyList<string> units, IReadOnlyList<double> fixedEffects)
    {
        (double lnRate, double product, double s) = row.SumsOfSquares;
        (SharedLoading Mean, SharedLoading Here)[] shared =
            [.. _shared.Value[(row.SiteKey, row.Campaign, row.Treatment, row.Evidence, row.ErrorSet)]];
        return new MixedRecord(row.LnRateMean ?? row.LnRateAtLeast, row.StabilisationMean, units, fixedEffects)
        {
            Error = new OutcomeCovariance(
                Square(row.LnRateUncertaintyBag), row.LnRateStabilisationCovarianceBag ?? 0, Square(row.StabilisationUncertaintyBag)),
            Shared = [.. shared.Select(e => e.Mean)],
            SharedHere = [.. shared.Select(e => e.Here)],
            FirstIsAtLeast = row.RateState == ReleasedPlot.AtLeast,
            Count = row.Burials,
            SumsOfSquares = new OutcomeCovariance(lnRate, product, s),
        };
    }

    /// <summary>What a quantity does to each row that shares it: for the fit the mean over all rows of its lot; of batches, which are of
    /// few rows, over all batches. What it does to one row was computed at the k and S of that row: an error that may move a row the more
    /// the faster it is would be found wherever rows differ, and would take their differences, and slopes, for its own. Intervals hold what
    /// it does to each row: a lot that is off tilts a slope that way.</summary>
    private static ILookup<(string, string, string?, string, string), (SharedLoading, SharedLoading)> SharedBy(
        IReadOnlyList<ReleasedSharedError> errors)
    {
        Dictionary<string, (double LnRate, double Stabilisation)> means = errors.GroupBy(AlikeIn, StringComparer.Ordinal)
            .ToDictionary(g => g.Key, g => (g.Average(e => e.OnLnRate), g.Average(e => e.OnStabilisation)), StringComparer.Ordinal);
        return errors.ToLookup(
            e => (e.SiteKey, e.Campaign, e.Treatment, e.Evidence, e.ErrorSet),
            e => (new SharedLoading(NameOf(e), means[AlikeIn(e)].LnRate, means[AlikeIn(e)].Stabilisation),
                new SharedLoading(NameOf(e), e.OnLnRate, e.OnStabilisation)));

        static string NameOf(ReleasedSharedError e) => $"{e.SharedBy}/{e.SharedId}/{e.Quantity}";

        static string AlikeIn(ReleasedSharedError e) => e.SharedBy == "batch" ? e.Quantity : NameOf(e);
    }

    private static double Square(double? x) => x * x ?? 0;

    /// <summary>How many burials are in no answer, and why: no ln k, or evidence that is not taken; nothing for none.</summary>
    internal IEnumerable<string> LeftOut(AskedOf of = AskedOf.Rate, bool isPlateauTold = false)
    {
        if (!isPlateauTold && SetAsideForPlateau.Sum(c => c.PlateauNotReachedBurials) is > 0 and int early)
        {
            yield return $"{Counted.Of(early, "burial")} dug up before the plateau of the fast litter (plateau-not-reached), mostly of "
                + "slow decay";
        }

        ReleasedSiteCampaign[] campaigns = of == AskedOf.Stabilisation ? []
            : [.. SiteCampaigns.Where(c => _evidence.Kinds.Contains(c.Evidence))];
        if (campaigns.Sum(c => c.RateNotPositiveBurials) is > 0 and int notPositive)
            yield return $"{Counted.Of(notPositive, "burial")} with k of 0 or below";
        if (campaigns.Sum(c => c.RateAtLeastBurials) - JointModel.AtLeastOf(Rows) is > 0 and int atPlateau)
        {
            yield return $"{Counted.Of(atPlateau, "burial")} whose slow litter is at its plateau, suspect as well, or with so much more "
                + "lost than can be that nothing bounds k (a lost piece is suspected)";
        }

        foreach (string other in _otherEvidence)
            yield return other;
    }

    /// <summary>Burials by kind of evidence, the strongest first.</summary>
    internal static IReadOnlyDictionary<string, int> ByEvidence(IEnumerable<ReleasedPlot> plots, AskedOf of = AskedOf.Rate) =>
        plots.GroupBy(p => p.Evidence).OrderBy(g => EvidenceChoice.RankOf(g.Key))
            .ToDictionary(g => g.Key, g => g.Sum(p => JointModel.BurialsOf(p, of)));

    /// <summary>How burials split over kinds of evidence, in words.</summary>
    public static string Split(IReadOnlyDictionary<string, int> byEvidence) =>
        string.Join(" and ", byEvidence.Select(k => $"{k.Value} {Told(k.Key)}"));

    private static string Told(string evidence) => evidence == Weighed ? evidence
        : evidence == AtlasCode.Of(EvidenceKind.Summarised) ? "of summaries" : "of reported results";

    /// <summary>One sentence on the errors that the intervals of the joint model hold.</summary>
    internal const string InIntervals =
        "In the intervals: scatter of sites, campaigns, plots and burials, and what bags, batches and lots are known to err by; what both "
        + "sides share cancels between them.";

    public IReadOnlyList<ReleasedCurve> Curves => _curves.Value;

    /// <summary>Burials that a note casts doubt on, whatever their use; none where no weighings are taken.</summary>
    public IReadOnlyList<ReleasedNoted> Noted { get; }

    /// <summary>The noted burials that an answer takes: accepted with what is asked of, or at their plateau and suspect for nothing
    /// else.</summary>
    internal IEnumerable<ReleasedNoted> NotedIn(AskedOf of)
    {
        HashSet<string> alone = [.. Rows.Select(r => r.BurialId).OfType<string>()];
        return Noted.Where(n => alone.Contains(IdOf(n))
            || (of == AskedOf.Rate ? n.CountsLnRate : n is { IsAccepted: true, Stabilisation: not null }));
    }

    /// <summary>The same without the noted burials: taken off their plots, and series that hold one left out. Means that stand for burials
    /// stay: no note is about them.</summary>
    public ReleasedRates WithoutNoted => _withoutNoted.Value;

    private ReleasedRates LeaveOutNoted()
    {
        HashSet<(string, string, string?)> series = [.. Noted.Select(n => (n.SiteKey, n.Campaign, n.Treatment))];
        return new(
            this, [.. RowsWithoutNoted()], new(() => [.. Curves.Where(c => !series.Contains((c.SiteKey, c.Campaign, c.Treatment)))]),
            isSupposed: false);
    }

    private IEnumerable<ReleasedPlot> RowsWithoutNoted()
    {
        HashSet<string> alone = [.. Rows.Select(r => r.BurialId).OfType<string>()];
        HashSet<string> noted = [.. Noted.Select(IdOf)];
        ILookup<(string, string, string?, string?, string, string), (double?, double?, double?)> summed = Noted
            .Where(n => n.IsAccepted && !alone.Contains(IdOf(n)))
            .ToLookup(
                n => (n.SiteKey, n.Campaign, n.Treatment, n.Plot, n.ErrorSet, n.RatePerDay > 0 ? ReleasedPlot.Known : ReleasedPlot.None),
                n => (n.RatePerDay > 0 ? Math.Log(n.RatePerDay.Value) : (double?)null, n.Stabilisation, (double?)n.ExposureDays));
        return Rows.Select(r => r.Evidence != Weighed ? r
            : r.BurialId is { } burial ? noted.Contains(burial) ? null : r
            : r.Without([.. summed[(r.SiteKey, r.Campaign, r.Treatment, r.Plot, r.ErrorSet, r.RateState)]])).OfType<ReleasedPlot>();
    }

    private static string IdOf(ReleasedNoted n) => $"{n.ContributionId}/{n.BurialId}";

    /// <summary>The same sites with other rates that scatter as these do: the variances of an answer stay those found here.</summary>
    internal ReleasedRates With(IReadOnlyList<ReleasedPlot> plots) => new(this, plots, _curves, isSupposed: true);

    public ReleasedSite SiteOf(ReleasedPlot plot) => _sites[plot.SiteKey];

    /// <summary>The values of covariates for a plot, in the order of the names; missing where one of them is missing or withheld.</summary>
    /// <exception cref="ConfigurationException">The release has no covariate of a name, or it is a class.</exception>
    public Func<ReleasedPlot, double[]?> Covariates(IReadOnlyList<string> names)
    {
        if (names.Count == 0)
            return _ => [];
        ReleasedCovariates covariates = _covariates.Value;
        if (covariates.RefusalOf(names) is { } refusal)
            throw new ConfigurationException(refusal);
        return plot =>
        {
            double?[] values = [.. names.Select(name => covariates.Of(plot.SiteKey, plot.Campaign, plot.Treatment, name))];
            return values.Any(v => v is null) ? null : [.. values.Select(v => v!.Value)];
        };
    }

    internal ReleasedCovariates KnownCovariates => _covariates.Value;

    internal IReadOnlyList<ReleasedSample> Samples => _release.Rows(AtlasTables.Samples);

    internal IReadOnlyList<ReleasedSiteCampaign> SiteCampaigns => _siteCampaigns.Value;

    /// <summary>Rows of the evidence taken with burials that are set aside for nothing but a plateau not reached.</summary>
    internal IEnumerable<ReleasedSiteCampaign> SetAsideForPlateau =>
        _evidence.Choose(SiteCampaigns).Where(c => c.PlateauNotReachedBurials > 0);

    internal static int SitesOf(IEnumerable<ReleasedPlot> plots) => plots.Select(p => p.SiteKey).Distinct(StringComparer.Ordinal).Count();
}
