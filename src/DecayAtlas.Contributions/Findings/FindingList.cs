using System.Runtime.InteropServices;

namespace DecayAtlas.Contributions.Findings;

/// <summary>
/// Collects findings. It keeps the first <see cref="ShownPerKind"/> of a kind (one code in one column of one file) and
/// the first <see cref="Shown"/> of all, and counts the rest: a million dates written the wrong way round must hide
/// neither the report nor the one wrong lot.
/// </summary>
internal sealed class FindingList(ReadingTime? time = null)
{
    /// <summary>The time that is left; it goes with the findings wherever a contribution is read.</summary>
    public ReadingTime Time { get; } = time ?? ReadingTime.Unlimited;

    /// <summary>Findings listed a contribution.</summary>
    public const int Shown = 200;

    /// <summary>Findings listed of one code in one column of one file.</summary>
    public const int ShownPerKind = 20;

    /// <summary>Codes that are not told: of rules that are younger than what is read.</summary>
    public IReadOnlyList<string> Untold { get; init; } = [];

    private readonly List<Finding> _kept = [];
    private readonly Dictionary<(string Code, string File, string? Sheet, string? Column), int> _countByKind = [];

    /// <summary>All findings so far, kept or only counted.</summary>
    public int Count { get; private set; }

    /// <summary>Further findings are only counted, so nothing costly need go into them.</summary>
    public bool IsFull => _kept.Count == Shown;

    public bool Contains(Finding finding) => _kept.Contains(finding.Masked());

    public bool Has(string code) => _countByKind.Keys.Any(kind => kind.Code == code);

    public void Add(Finding finding)
    {
        if (Untold.Contains(finding.Code))
            return;
        // what both bags of a hole have of it is said of their cell once
        if (finding.Cell is not null && !IsFull && Contains(finding))
            return;
        Count++;
        if (IsFull)
            return;
        (string, string, string?, string?) kind = (finding.Code, finding.File, finding.Sheet, finding.Column);
        if (++CollectionsMarshal.GetValueRefOrAddDefault(_countByKind, kind, out _) <= ShownPerKind)
            _kept.Add(finding.Masked());
    }

    public void Add(string code, string file, string found, string expected, string mend) =>
        Add(new Finding(code, file, found, expected, mend));

    /// <summary>The kept findings, and one more that counts the rest when there is a rest.</summary>
    public IReadOnlyList<Finding> Close(string package)
    {
        if (Count == _kept.Count)
            return _kept;
        return [.. _kept, new Finding(FindingCode.MoreFindings, package,
            Invariant($"{Count} findings, of which {_kept.Count} are listed (at most {ShownPerKind} of a kind and {Shown} in all)"),
            "none", "mend the listed ones first, the others are most likely of the same kinds")];
    }
}
