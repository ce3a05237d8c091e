namespace DecayAtlas.Questions.Answers;

/// <summary>What questions are asked of: the rates of a release by plot, and what is known of their sites.</summary>
public sealed class ReleasedRates
{
    private static readonly string Weighed = AtlasCode.Of(EvidenceKind.Weighed);

    private readonly IReleasedRows _release;
    private readonly EvidenceChoice _evidence;
    private readonly Dictionary<string, ReleasedSite> _sites;
    private readonly Lazy<IReadOnlyList<ReleasedCurve>> _curves;
    private readonly IReadOnlyList<string> _otherEvidence;

    /// <param name="release">A release, or tables that are on their way into one.</param>
    /// <param name="evidence">The kinds of evidence to take; the usual ones where none is given.</param>
    public ReleasedRates(IReleasedRows release, EvidenceChoice? evidence = null)
    {
        _release = release;
        _sites = release.Rows(AtlasTables.Sites).ToDictionary(s => s.SiteKey, StringComparer.Ordinal);
        _curves = new(() => release.Rows(AtlasTables.Curves));
        _evidence = evidence ?? EvidenceChoice.Usual;
        IReadOnlyList<ReleasedPlot> plots = release.Rows(AtlasTables.Plots);
        Plots = _evidence.Choose(plots);
        _otherEvidence =
        [
            .. ByEvidence(plots.Except(Plots)).Select(k => $"{Counted.Of(k.Value, "burial")} {Told(k.Key)} "
                + (_evidence.Kinds.Contains(k.Key) ? "of places and campaigns that stronger evidence speaks of" : "(answers.evidence)")),
        ];
        Noted = _evidence.Kinds.Contains(Weighed) ? release.Rows(AtlasTables.Noted) : [];
    }

    private ReleasedRates(ReleasedRates all, IReadOnlyList<ReleasedPlot> plots, Lazy<IReadOnlyList<ReleasedCurve>> curves) =>
        (_release, _evidence, _sites, _curves, _otherEvidence, Plots, Noted) =
            (all._release, all._evidence, all._sites, curves, all._otherEvidence, plots, []);

    public IReadOnlyList<ReleasedPlot> Plots { get; }

    /// <summary>How many burials are in no answer, and why: no ln k, or evidence that is not taken; nothing for none.</summary>
    internal IEnumerable<string> LeftOut()
    {
        ReleasedSiteCampaign[] campaigns =
            [.. _release.Rows(AtlasTables.SiteCampaigns).Where(c => _evidence.Kinds.Contains(c.Evidence))];
        if (campaigns.Sum(c => c.RateNotPositiveBurials) is > 0 and int notPositive)
            yield return $"{notPositive} burials with k of 0 or below";
        if (campaigns.Sum(c => c.RateAtLeastBurials) is > 0 and int atPlateau)
        {
            yield return $"{atPlateau} burials whose slow litter is at its plateau, so that k is large but no number, or lost so "
                + "much more than it can that nothing bounds k (a lost piece is suspected)";
        }

        foreach (string other in _otherEvidence)
            yield return other;
    }

    /// <summary>Burials with ln k by kind of evidence, the strongest first.</summary>
    internal static IReadOnlyDictionary<string, int> ByEvidence(IEnumerable<ReleasedPlot> plots) => plots.GroupBy(p => p.Evidence)
        .OrderBy(g => EvidenceChoice.RankOf(g.Key)).ToDictionary(g => g.Key, g => g.Sum(p => p.LnRateBurials));

    /// <summary>How burials split over kinds of evidence, in words.</summary>
    public static string Split(IReadOnlyDictionary<string, int> byEvidence) =>
        string.Join(" and ", byEvidence.Select(k => $"{k.Value} {Told(k.Key)}"));

    private static string Told(string evidence) => evidence == Weighed ? evidence
        : evidence == AtlasCode.Of(EvidenceKind.Summarised) ? "of summaries" : "of reported results";

    /// <summary>One sentence on the errors that no interval of an answer from these plots holds.</summary>
    public string NotInIntervals(IEnumerable<ReleasedPlot> plots)
    {
        HashSet<(string, string, string?)> asked = [.. plots.Select(p => (p.SiteKey, p.Campaign, p.Treatment))];
        double? share = ReleasedSiteCampaign.SharedShareOf(
            _release.Rows(AtlasTables.SiteCampaigns).Where(c => asked.Contains((c.SiteKey, c.Campaign, c.Treatment))));
        return "Not in the intervals: errors that all bags of a batch or a lot share (water, drying, chemistry)"
            + (share is { } x ? Invariant($", of the order of {100 * x:0.#} % of k here") : "")
            + "; more burials do not shrink them, and a ratio is free of them only where both sides share them.";
    }

    public IReadOnlyList<ReleasedCurve> Curves => _curves.Value;

    /// <summary>Burials that a note casts doubt on, whatever their use; none where no weighings are taken.</summary>
    public IReadOnlyList<ReleasedNoted> Noted { get; }

    /// <summary>The same without the noted burials: taken off their plots, and series that hold one left out. Means that stand for burials
    /// stay: no note is about them.</summary>
    public ReleasedRates WithoutNoted()
    {
        ILookup<(string, string, string?, string?), double> lnRates = Noted.Where(n => n.CountsLnRate)
            .ToLookup(n => (n.SiteKey, n.Campaign, n.Treatment, n.Plot), n => Math.Log(n.RatePerDay!.Value));
        HashSet<(string, string, string?)> series = [.. Noted.Select(n => (n.SiteKey, n.Campaign, n.Treatment))];
        return new(
            this,
            [.. Plots.Select(p => p.Evidence != Weighed ? p : p.Without([.. lnRates[(p.SiteKey, p.Campaign, p.Treatment, p.Plot)]]))
                .OfType<ReleasedPlot>()],
            new(() => [.. Curves.Where(c => !series.Contains((c.SiteKey, c.Campaign, c.Treatment)))]));
    }

    /// <summary>The same sites with other rates.</summary>
    internal ReleasedRates With(IReadOnlyList<ReleasedPlot> plots) => new(this, plots, _curves);

    public ReleasedSite SiteOf(ReleasedPlot plot) => _sites[plot.SiteKey];

    /// <summary>The values of covariates for a plot, in the order of the names; missing where one of them is missing or withheld.</summary>
    /// <exception cref="ConfigurationException">The release has no covariate of a name.</exception>
    public Func<ReleasedPlot, double[]?> Covariates(IReadOnlyList<string> names)
    {
        if (names.Count == 0)
            return _ => [];
        ReleasedCovariates covariates = new(_release);
        if (names.FirstOrDefault(name => !covariates.Names.Contains(name)) is { } unknown)
        {
            throw new ConfigurationException($"{unknown} is no covariate of the release; it has "
                + $"{(covariates.Names.Count == 0 ? "no covariates" : string.Join(", ", covariates.Names))}.");
        }

        return plot =>
        {
            double?[] values = [.. names.Select(name => covariates.Of(plot.SiteKey, plot.Campaign, plot.Treatment, name))];
            return values.Any(v => v is null) ? null : [.. values.Select(v => v!.Value)];
        };
    }

    internal static int SitesOf(IEnumerable<ReleasedPlot> plots) => plots.Select(p => p.SiteKey).Distinct(StringComparer.Ordinal).Count();
}
