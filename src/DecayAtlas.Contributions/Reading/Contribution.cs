namespace DecayAtlas.Contributions.Reading;

/// <summary>One valid contribution: every row passed every rule of the schema.</summary>
public sealed record Contribution(
    ContributionHeader Header,
    IReadOnlyList<SiteRow> Sites,
    IReadOnlyList<LotRow> Lots,
    IReadOnlyList<BagRow> Bags,
    IReadOnlyList<SampleRow> Samples)
{
    /// <summary>Means that stand for burials of which no weighings were sent.</summary>
    public IReadOnlyList<ResultRow> Results { get; init; } = [];

    /// <summary>Every word that may be a sender's own.</summary>
    public IEnumerable<(WordList List, string? Sent)> WordsSent =>
    [
        .. Sites.SelectMany(s => new[]
        {
            (Vocabulary.Ecosystem, s.Ecosystem), (Vocabulary.LandUse, s.LandUse), (Vocabulary.Management, s.Management),
        }),
        .. Bags.Select(b => (Vocabulary.Treatment, b.Treatment)), .. Results.Select(r => (Vocabulary.Treatment, r.Treatment)),
    ];

    /// <summary>The same in the words of the vocabulary, as far as they are ours or mapped; what was sent is kept beside them.</summary>
    public Contribution InOurWords(LocalWords words) => this with
    {
        Sites = [.. Sites.Select(site => site.InOurWords(words))],
        Bags = [.. Bags.Select(bag => bag.InOurWords(words))],
        Results = [.. Results.Select(result => result.InOurWords(words))],
    };
}
