using System.Globalization;

namespace DecayAtlas.Contributions.Receiving;

/// <summary>
/// Lists every contribution that was ever accepted. One that it lists and the intake lacks was lost, and must not quietly be missing
/// from the next release; one that it lacks was accepted by a run that was killed before it could list it.
/// </summary>
internal sealed class IntakeRegister(string intake)
{
    public const string Name = "register.txt";

    private readonly string _path = Path.Combine(intake, Name);
    private IReadOnlyList<string> _linesOfLost = [];
    private IReadOnlyList<string> _notes = [];

    /// <summary>What it lists and the intake lacks, as last held against what was found.</summary>
    public IReadOnlyList<LostContribution> Lost => [.. _linesOfLost.Select(Parsed)];

    /// <returns>Whether it lacks some of what was found.</returns>
    public bool HoldAgainst(IReadOnlyDictionary<string, ContributionHeader> found)
    {
        string[] lines = Lines();
        _notes = [.. lines.Where(line => line.StartsWith('#'))];
        string[] listed = [.. lines.Where(IsEntry).Distinct()];
        _linesOfLost = [.. listed.Where(line => !found.ContainsKey(HashIn(line)))];
        return listed.Length - _linesOfLost.Count < found.Count;
    }

    /// <exception cref="ContributionException">The disk refuses.</exception>
    private string[] Lines() =>
        ContributionException.Guard<string[]>($"{_path} can't be read", () => File.Exists(_path) ? File.ReadAllLines(_path) : []);

    // people edit it: a note, or a line that a disk garbled, lists nothing
    private static bool IsEntry(string line) => line.Length >= ContentHash.Length && ContentHash.IsOne(line[..ContentHash.Length]);

    /// <summary>Lists what is accepted, and what was lost: it may come back.</summary>
    /// <exception cref="ContributionException">The disk refuses.</exception>
    public void Write(IReadOnlyDictionary<string, ContributionHeader> accepted)
    {
        try
        {
            IEnumerable<string> lines =
                accepted.Values.Select(h => Invariant($"{h.ContentHash}  {h.ContributionId} {h.Revision}"))
                .Concat(_linesOfLost.Where(line => !accepted.ContainsKey(HashIn(line))));
            DurableFile.WriteText(_path, string.Concat(_notes.Concat(lines.Order(StringComparer.Ordinal)).Select(line => line + "\n")));
        }
        catch (Exception fault) when (StorageFault.Is(fault))
        {
            throw new ContributionException($"{_path} could not be written because {StorageFault.Reason(fault)}; mend that and run again.",
                fault);
        }
    }

    private static string HashIn(string line) => line[..ContentHash.Length];

    private static LostContribution Parsed(string line)
    {
        string[] words = line[ContentHash.Length..].Split(' ', StringSplitOptions.RemoveEmptyEntries);
        _ = int.TryParse(words.ElementAtOrDefault(1), NumberStyles.None, CultureInfo.InvariantCulture, out int revision);
        return LostContribution.Of(words.ElementAtOrDefault(0) ?? "a contribution", revision, HashIn(line));
    }
}
