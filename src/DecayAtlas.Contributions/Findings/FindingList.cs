using System.Globalization;
using System.Runtime.InteropServices;

namespace DecayAtlas.Contributions.Findings;

/// <summary>
/// Collects findings. It keeps the first <see cref="ShownPerKind"/> of a kind (one code in one column of one file) and
/// the first <see cref="Shown"/> of all, and counts the rest: a million dates written the wrong way round must hide
/// neither the report nor the one wrong lot.
/// </summary>
public sealed class FindingList
{
    /// <summary>A list of a contribution that may take any time.</summary>
    public FindingList()
        : this(ReadingTime.Unlimited)
    {
    }

    internal FindingList(ReadingTime time) => Time = time;

    /// <summary>The time that is left; it goes with the findings wherever a contribution is read.</summary>
    internal ReadingTime Time { get; }

    /// <summary>Findings listed a contribution.</summary>
    public const int Shown = 200;

    /// <summary>Findings listed of one code in one column of one file.</summary>
    public const int ShownPerKind = 20;

    private readonly List<Finding> _kept = [];
    private readonly Dictionary<(string Code, string File, string? Sheet, string? Column), int> _countByKind = [];

    /// <summary>All findings so far, kept or only counted.</summary>
    public int Count { get; private set; }

    /// <summary>Further findings are only counted, so nothing costly need go into them.</summary>
    public bool IsFull => _kept.Count == Shown;

    /// <summary>Whether anything of this code was found.</summary>
    public bool Has(string code) => _countByKind.Keys.Any(kind => kind.Code == code);

    public void Add(Finding finding)
    {
        Count++;
        if (IsFull)
            return;
        ref int ofKind =
            ref CollectionsMarshal.GetValueRefOrAddDefault(_countByKind, (finding.Code, finding.File, finding.Sheet, finding.Column),
                out _);
        if (++ofKind <= ShownPerKind)
            _kept.Add(finding.Masked());
    }

    public void Add(string code, string file, string found, string expected, string mend) =>
        Add(new Finding(code, file, null, null, found, expected, mend));

    /// <summary>The kept findings, and one more that counts the rest when there is a rest.</summary>
    public IReadOnlyList<Finding> Close(string package)
    {
        if (Count == _kept.Count)
            return _kept;
        return [.. _kept, new Finding(
            FindingCode.MoreFindings, package, null, null,
            string.Create(
                CultureInfo.InvariantCulture, $"{Count} findings, of which {_kept.Count} are listed (at most {ShownPerKind} of a kind "
                + $"and {Shown} in all)"),
            "none",
            "mend the listed ones first, the others are most likely of the same kinds")];
    }
}
