namespace DecayAtlas.Atlas.Releases;

/// <param name="Path">In the release, with forward slashes.</param>
/// <param name="Table"><see langword="null"/> for an export.</param>
public sealed record ReleaseFile(string Path, string Sha256, string? Table, int Rows)
{
    /// <summary>The part that holds it in an atlas.</summary>
    internal string PartIn(AtlasFolder atlas) => System.IO.Path.Combine(atlas.Parts, Sha256 + System.IO.Path.GetExtension(Path));
}

/// <summary>What a release says of itself besides its rows.</summary>
/// <param name="Settings">Every setting that bears on a number, as JSON; a change of it makes a new release.</param>
/// <param name="Licences">Licences of the contributions, each once, in ordinal order.</param>
/// <param name="Citation">What the curator says of who made the data and how to name them; missing where there is no such file.</param>
public sealed record ReleaseStatement(
    string Title, string Publisher, string Settings, string SoftwareVersion, IReadOnlyList<string> Licences, Citation? Citation = null);

/// <param name="IsNew">False where nothing had changed, so that no release was written.</param>
/// <param name="ChecksumsSha256">SHA-256 of the release's list of checksums.</param>
public sealed record ReleaseOutcome(ReleaseName Release, bool IsNew, IReadOnlyDictionary<string, int> RowCounts, string ChecksumsSha256);
