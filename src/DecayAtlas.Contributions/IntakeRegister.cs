namespace DecayAtlas.Contributions;

/// <summary>
/// Lists every contribution that was ever accepted. One that it lists and the intake lacks was lost, and must not quietly be missing
/// from the next release; one that it lacks was accepted by a run that was killed before it could list it.
/// </summary>
internal sealed class IntakeRegister(string intake)
{
    private const int ContentHashLength = 64;

    private readonly string path = Path.Combine(intake, "register.txt");

    /// <returns>Whether it lacks some of what was found.</returns>
    /// <exception cref="ContributionException">A contribution was lost.</exception>
    public bool HoldAgainst(IReadOnlyDictionary<string, ContributionHeader> found)
    {
        HashSet<string> listed = File.Exists(path) ? [.. File.ReadLines(path).Where(line => line.Length >= ContentHashLength)] : [];
        foreach (string line in listed)
        {
            string hash = line[..ContentHashLength];
            if (!found.ContainsKey(hash))
                throw new ContributionException($"The accepted contribution {line[ContentHashLength..].Trim()} is missing from {Path.Combine(intake, hash)}; restore that folder from a backup, or, if it was taken out on purpose, take its line out of {path}.");
        }
        return listed.Count < found.Count;
    }

    /// <exception cref="ContributionException">The disk refuses.</exception>
    public void Write(IEnumerable<ContributionHeader> accepted)
    {
        try
        {
            IntakeNote.Replace(path, string.Concat(accepted.OrderBy(h => h.ContentHash, StringComparer.Ordinal)
                .Select(h => FormattableString.Invariant($"{h.ContentHash}  {h.ContributionId} {h.Revision}\n"))));
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new ContributionException($"{path} could not be written because {StorageFault.Reason(fault)}; mend that and run again.", fault);
        }
    }
}
