namespace DecayAtlas.Questions.Answers;

/// <summary>
/// The kinds of evidence that a question or a model takes. Where a site, campaign and treatment has several of them only the strongest
/// counts: weighings before summaries before reports, since all may speak of the same burials.
/// </summary>
/// <param name="Kinds">Codes of <see cref="EvidenceKind"/>.</param>
public sealed record EvidenceChoice(IReadOnlyList<string> Kinds)
{
    private static readonly string[] Strongest = [.. Enum.GetValues<EvidenceKind>().Select(AtlasCode.Of)];

    /// <summary>Weighed and summarised: what k and S were computed from by one set of equations.</summary>
    public static EvidenceChoice Usual { get; } =
        new([AtlasCode.Of(EvidenceKind.Weighed), AtlasCode.Of(EvidenceKind.Summarised)]);

    /// <summary>The usual kinds where none is named.</summary>
    public static EvidenceChoice Of(IReadOnlyList<string> kinds) => kinds.Count > 0 ? new(kinds) : Usual;

    public ReleasedSiteCampaign[] Choose(IEnumerable<ReleasedSiteCampaign> rows) =>
        Choose(rows, r => (r.SiteKey, r.Campaign, r.IsUntreated ? null : r.Treatment), r => r.Evidence);

    public ReleasedPlot[] Choose(IEnumerable<ReleasedPlot> rows) =>
        Choose(rows, r => (r.SiteKey, r.Campaign, r.IsUntreated ? null : r.Treatment), r => r.Evidence);

    private T[] Choose<T>(IEnumerable<T> rows, Func<T, (string, string, string?)> seriesOf, Func<T, string> evidenceOf)
    {
        T[] taken = [.. rows.Where(r => Kinds.Contains(evidenceOf(r)))];
        Dictionary<(string, string, string?), int> best = taken.GroupBy(seriesOf).ToDictionary(g => g.Key, g => g.Min(RankOf));
        return [.. taken.Where(r => RankOf(r) == best[seriesOf(r)])];

        int RankOf(T row) => EvidenceChoice.RankOf(evidenceOf(row));
    }

    /// <summary>0 for the strongest.</summary>
    internal static int RankOf(string kind) => Array.IndexOf(Strongest, kind);
}
