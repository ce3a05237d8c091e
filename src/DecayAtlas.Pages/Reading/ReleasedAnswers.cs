using DecayAtlas.Atlas.Releases;
using DecayAtlas.Atlas.Storage;

namespace DecayAtlas.Pages.Reading;

/// <summary>How much of the scatter of ln k lies at one level.</summary>
public sealed record VarianceFacts(string Level, int? Units, double? Share, double? Lower95, double? Upper95);

/// <summary>Two groups held against each other, with what may be concluded.</summary>
public sealed record ComparisonFacts(string By, string First, string Second, double? Ratio, double? Lower95, double? Upper95, double? HolmP, string? Sentence);

/// <summary>Answers that a release gives to group questions; none where it has no such tables.</summary>
public sealed record ReleasedAnswers(IReadOnlyList<VarianceFacts> Variance, IReadOnlyList<ComparisonFacts> Comparisons)
{
    public static ReleasedAnswers None { get; } = new([], []);

    /// <exception cref="Atlas.AtlasException">A table can't be read.</exception>
    public static ReleasedAnswers Read(ReleaseReader release) => new(
        release.Has("variance") ? VarianceOf(release.Table("variance")) : [],
        release.Has("comparisons") ? ComparisonsOf(release.Table("comparisons")) : []);

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
}
