using System.Globalization;

namespace DecayAtlas.Contributions;

/// <summary>
/// Lists every contribution that was ever accepted. One that it lists and the intake lacks was lost, and must not quietly be missing
/// from the next release; one that it lacks was accepted by a run that was killed before it could list it.
/// </summary>
internal sealed class IntakeRegister(string intake)
{
    public const string Name = "register.txt";

    private const int ContentHashLength = 64;

    private readonly string path = Path.Combine(intake, Name);
    private IReadOnlyList<string> linesOfLost = [];

    /// <summary>What it lists and the intake lacks, as last held against what was found.</summary>
    public IReadOnlyList<LostContribution> Lost => [.. linesOfLost.Select(Parsed)];

    /// <returns>Whether it lacks some of what was found.</returns>
    public bool HoldAgainst(IReadOnlyDictionary<string, ContributionHeader> found)
    {
        string[] listed = File.Exists(path)
            ? [.. File.ReadLines(path).Where(line => line.Length >= ContentHashLength).Distinct(StringComparer.Ordinal)]
            : [];
        linesOfLost = [.. listed.Where(line => !found.ContainsKey(HashIn(line)))];
        return listed.Length - linesOfLost.Count < found.Count;
    }

    /// <summary>Lists what is accepted, and what was lost: it may come back.</summary>
    /// <exception cref="ContributionException">The disk refuses.</exception>
    public void Write(IReadOnlyDictionary<string, ContributionHeader> accepted)
    {
        try
        {
            IEnumerable<string> lines = accepted.Values.Select(h => FormattableString.Invariant($"{h.ContentHash}  {h.ContributionId} {h.Revision}"))
                .Concat(linesOfLost.Where(line => !accepted.ContainsKey(HashIn(line))));
            IntakeNote.Replace(path, string.Concat(lines.Order(StringComparer.Ordinal).Select(line => line + "\n")));
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new ContributionException($"{path} could not be written because {StorageFault.Reason(fault)}; mend that and run again.", fault);
        }
    }

    private static string HashIn(string line) => line[..ContentHashLength];

    private static LostContribution Parsed(string line)
    {
        string[] words = line[ContentHashLength..].Split(' ', StringSplitOptions.RemoveEmptyEntries);
        _ = int.TryParse(words.ElementAtOrDefault(1), NumberStyles.None, CultureInfo.InvariantCulture, out int revision);
        return LostContribution.Of(words.ElementAtOrDefault(0) ?? "a contribution", revision, HashIn(line));
    }
}
