namespace DecayAtlas.Pipeline.Contributors;

/// <summary>Outlines, made once for each accepted content; another build may ask for more of it.</summary>
internal sealed class OutlineCache(AtlasFolder atlas)
{
    private readonly Cache<ContributionOutline> _cache = new(atlas, "outlines");

    /// <summary>The outlines of contributions, by content hash, and why there is none of those that could not be read.</summary>
    public (IReadOnlyDictionary<string, ContributionOutline> Made, IReadOnlyDictionary<ContributionHeader, WorkFailure> NotMade) Of(
        IReadOnlyList<ContributionHeader> headers, Func<ContributionHeader, Contribution> read)
    {
        ContributionOutline?[] outlines = new ContributionOutline?[headers.Count];
        WorkFailure?[] failures = new WorkFailure?[headers.Count];
        Parallel.For(0, headers.Count, i =>
            outlines[i] = _cache.Load(KeyOf(headers[i])) ?? WorkFailure.Catch(() => Remember(read(headers[i])), out failures[i]));
        Dictionary<string, ContributionOutline> made = new(StringComparer.Ordinal);
        Dictionary<ContributionHeader, WorkFailure> notMade = new();
        for (int i = 0; i < headers.Count; i++)
        {
            if (outlines[i] is { } outline)
                made[headers[i].ContentHash] = outline;
            else
                notMade[headers[i]] = failures[i]!;
        }

        return (made, notMade);
    }

    /// <summary>Keeps the outline of a contribution that is at hand, so that it need not be read for it later.</summary>
    public ContributionOutline Remember(Contribution contribution)
    {
        ContributionOutline outline = ContributionOutline.Of(contribution);
        _cache.Save(KeyOf(contribution.Header), outline);
        return outline;
    }

    public void KeepOnly(IEnumerable<ContributionHeader> headers) => _cache.KeepOnly(headers.Select(KeyOf));

    private static string KeyOf(ContributionHeader header) => InputDigest.Of([SharedInputs.CodeIdentity, header.ContentHash]);
}
