namespace DecayAtlas.Pipeline.Contributors;

/// <summary>
/// What earlier runs computed: for each contributor the key it was computed under and which files its rows went to; for each
/// part the file it became. Only a memory: without it everything is computed again, to the same bytes.
/// </summary>
internal sealed record WorkDone
{
    /// <summary>The shared inputs of the last run, to say what changed.</summary>
    public LastInputs? Inputs { get; init; }

    /// <summary>By contributor id.</summary>
    public SortedDictionary<string, ComputedContributor> Contributors { get; init; } = new(StringComparer.Ordinal);

    /// <summary>By the key of the part.</summary>
    public SortedDictionary<string, ReleaseFile> Parts { get; init; } = new(StringComparer.Ordinal);

    /// <summary>What the contributors, held against one another, gave last.</summary>
    public CrossChecked? CrossCheck { get; init; }
}

/// <summary>One contributor as last computed.</summary>
/// <param name="Key">Stands for all inputs of its rows.</param>
/// <param name="Contents">Content hashes of its contributions.</param>
/// <param name="RowsByFile">Rows it has in each file of a release.</param>
/// <param name="Licences">Licences of its contributions.</param>
/// <param name="Counts">For the run record.</param>
/// <param name="IdleDecisions">Overrulings that found no flag.</param>
internal sealed record ComputedContributor(
    string Key, IReadOnlyList<string> Contents, SortedDictionary<string, int> RowsByFile, IReadOnlyList<string> Licences, WorkCounts Counts,
    IReadOnlyList<string> IdleDecisions)
{
    /// <summary>Ids of its sites that were hidden then; one that was not must not be shown by rows of then.</summary>
    public IReadOnlyList<string> SensitiveSites { get; init; } = [];

    /// <summary>Whether it could not be computed anew since, so that these rows are of an earlier run.</summary>
    public bool IsEarlier { get; init; }
}

/// <summary>What came of holding all contributors against one another.</summary>
/// <param name="Key">Stands for the rows of all of them.</param>
/// <param name="File">The part that holds the flags; <see langword="null"/> where there are none.</param>
/// <param name="Flags">Flags by code.</param>
/// <param name="NotJudged">What could not be judged, and why.</param>
internal sealed record CrossChecked(string Key, ReleaseFile? File, SortedDictionary<string, int> Flags, IReadOnlyList<string> NotJudged);

/// <summary>Digests of the shared inputs.</summary>
internal sealed record LastInputs(string Code, string Settings, string Countries, SortedDictionary<string, string> Grids)
{
    public static LastInputs Of(SharedInputs shared) => new(
        shared.Code, shared.Settings, shared.CountriesDigest,
        new SortedDictionary<string, string>(shared.Grids.ToDictionary(g => g.Entry.Name, g => g.Digest), StringComparer.Ordinal));
}
