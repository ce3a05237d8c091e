using System.Globalization;

namespace DecayAtlas.Contributions;

/// <summary>Collects findings; keeps the first <see cref="Shown"/> and counts the rest, so that a wrong file of a million rows stays a readable report.</summary>
public sealed class FindingList
{
    /// <summary>Findings kept a contribution.</summary>
    public const int Shown = 200;

    private readonly List<Finding> kept = [];

    /// <summary>Further findings are only counted, so nothing costly need go into them.</summary>
    public bool IsFull => kept.Count == Shown;

    /// <summary>All findings so far, kept or only counted.</summary>
    public int Count { get; private set; }

    public void Add(Finding finding)
    {
        Count++;
        if (kept.Count < Shown)
            kept.Add(finding);
    }

    public void Add(string code, string file, string found, string expected, string mend) =>
        Add(new Finding(code, file, null, null, found, expected, mend));

    /// <summary>The kept findings, and one more that counts the rest when there is a rest.</summary>
    public IReadOnlyList<Finding> Close(string package)
    {
        if (Count == kept.Count)
            return kept;
        string total = Count.ToString(CultureInfo.InvariantCulture);
        string rest = (Count - kept.Count).ToString(CultureInfo.InvariantCulture);
        return [.. kept, new Finding(
            FindingCode.MoreFindings, package, null, null,
            $"{total} findings, of which the first {kept.Count} are listed and {rest} are not",
            "none",
            "mend the listed ones first, most of the others will have the same cause")];
    }
}
