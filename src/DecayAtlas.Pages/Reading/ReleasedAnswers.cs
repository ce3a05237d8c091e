using DecayAtlas.Atlas.Releases;
using DecayAtlas.Atlas.Storage;

namespace DecayAtlas.Pages.Reading;

/// <summary>How much of the scatter of ln k lies at one level.</summary>
public sealed record VarianceFacts(string Level, int? Units, double? Share, double? Lower95, double? Upper95);

/// <summary>Two groups held against each other, with what may be concluded.</summary>
public sealed record ComparisonFacts(string By, string First, string Second, double? Ratio, double? Lower95, double? Upper95, double? HolmP, string? Sentence);

/// <summary>The two-bag k held against the k of fitted curves, over all series.</summary>
/// <param name="Series">In how many series both are known.</param>
/// <param name="Ratio">Geometric mean of two-bag k over the curve's; missing where it could not be told.</param>
/// <param name="LowerLimit">Lower limit of agreement: about 95 % of single series lie between the limits.</param>
/// <param name="Sentence">The same in words, in English, or why there are no numbers.</param>
public sealed record AgreementFacts(int Series, double? Ratio, double? Lower95, double? Upper95, double? LowerLimit, double? UpperLimit, string? Sentence);

/// <summary>Answers that a release gives to group questions; none where it has no such tables.</summary>
public sealed record ReleasedAnswers(IReadOnlyList<VarianceFacts> Variance, IReadOnlyList<ComparisonFacts> Comparisons)
{
    public static ReleasedAnswers None { get; } = new([], []);

    /// <summary>How far the two-bag k can be trusted; missing where the release has no series.</summary>
    public AgreementFacts? Agreement { get; init; }

    /// <exception cref="Atlas.AtlasException">A table can't be read.</exception>
    public static ReleasedAnswers Read(ReleaseReader release) => new(
        release.Has("variance") ? VarianceOf(release.Table("variance")) : [],
        release.Has("comparisons") ? ComparisonsOf(release.Table("comparisons")) : [])
    {
        Agreement = release.Has("agreement") ? AgreementOf(release.Table("agreement")) : null,
    };

    private static IReadOnlyList<VarianceFacts> VarianceOf(ParquetColumns t)
    {
        string?[] model = t.Text("model"), level = t.Text("level");
        int?[] units = t.WholeNumber("units");
        double?[] share = t.Number("share"), lower = t.Number("share_lower95"), upper = t.Number("share_upper95");
        return [.. Enumerable.Range(0, level.Length).Where(i => model[i] == "nested" && share[i] is not null).Select(i => new VarianceFacts(level[i]!, units[i], share[i], lower[i], upper[i]))];
    }

    private static IReadOnlyList<ComparisonFacts> ComparisonsOf(ParquetColumns t)
    {
        string?[] by = t.Text("compared_by"), first = t.Text("first"), second = t.Text("second"), sentence = t.Text("sentence");
        double?[] ratio = t.Number("ratio"), lower = t.Number("ratio_lower95"), upper = t.Number("ratio_upper95"), p = t.Number("p_holm");
        return [.. Enumerable.Range(0, by.Length).Where(i => ratio[i] is not null).Select(i => new ComparisonFacts(by[i]!, first[i]!, second[i]!, ratio[i], lower[i], upper[i], p[i], sentence[i]))];
    }

    private static AgreementFacts? AgreementOf(ParquetColumns t)
    {
        int?[] series = t.WholeNumber("series");
        double?[] ratio = t.Number("ratio"), lower = t.Number("ratio_lower95"), upper = t.Number("ratio_upper95"), from = t.Number("lower_limit"), to = t.Number("upper_limit");
        string?[] sentence = t.Text("sentence");
        return series.Length == 0 ? null : new AgreementFacts(series[0] ?? 0, ratio[0], lower[0], upper[0], from[0], to[0], sentence[0]);
    }
}
