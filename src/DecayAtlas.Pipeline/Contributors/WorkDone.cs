namespace DecayAtlas.Pipeline.Contributors;

/// <summary>
/// What earlier runs computed: for each contributor the key it was computed under and which files its rows went to; for each
/// part the file it became. Only a memory: without it everything is computed again, to the same bytes.
/// </summary>
internal sealed record WorkDone
{
    /// <summary>The shared inputs of the last run, to say what changed.</summary>
    public LastInputs? Inputs { get; init; }

    public SortedDictionary<string, ComputedContributor> Contributors { get; init; } = new(StringComparer.Ordinal);

    public SortedDictionary<string, ReleaseFile> Parts { get; init; } = new(StringComparer.Ordinal);

    public CrossChecked? CrossCheck { get; init; }
}

/// <summary>One contributor as last computed.</summary>
/// <param name="Key">Stands for all inputs of its rows.</param>
/// <param name="Files">The files of a release that it has rows in, in ordinal order.</param>
internal sealed record ComputedContributor(
    string Key, IReadOnlyList<string> Contents, IReadOnlyList<string> Files, IReadOnlyList<string> Licences, WorkCounts Counts,
    IReadOnlyList<string> IdleDecisions)
{
    /// <summary>Ids of its sites that were hidden then; one that was not must not be shown by rows of then.</summary>
    public IReadOnlyList<string> SensitiveSites { get; init; } = [];

    /// <summary>The entries of the vocabulary file that stand for a word of its.</summary>
    public IReadOnlyList<string> LocalWords { get; init; } = [];

    /// <summary>Whether it could not be computed anew since, so that these rows are of an earlier run.</summary>
    public bool IsEarlier { get; init; }
}

/// <summary>What came of holding all contributors against one another.</summary>
/// <param name="Key">Stands for the rows of all of them.</param>
/// <param name="Files">The parts that hold the flags and what is noted, as far as there are any.</param>
/// <param name="IdleDecisions">Overrulings of such notes that found none.</param>
internal sealed record CrossChecked(string Key, IReadOnlyList<ReleaseFile> Files, SortedDictionary<string, int> Flags,
    IReadOnlyList<string> NotJudged, IReadOnlyList<string> IdleDecisions);

internal sealed record LastInputs(string Code, string Settings, string Countries, SortedDictionary<string, string> Grids)
{
    public string Words { get; init; } = "";

    public static LastInputs Of(SharedInputs shared) => new(
        SharedInputs.CodeIdentity, shared.Settings, shared.CountriesDigest,
        new SortedDictionary<string, string>(shared.Grids.ToDictionary(g => g.Entry.Name, g => g.Digest), StringComparer.Ordinal))
    {
        Words = InputDigest.Of(shared.Words.Entries),
    };
}
