namespace DecayAtlas.Contributions.Reports;

/// <summary>The same slip in many rows, which is one thing to mend.</summary>
/// <param name="All">In the order in which they were found.</param>
public sealed record FindingGroup(IReadOnlyList<Finding> All)
{
    private const int MostPlaces = 12, MostFound = 4;

    /// <summary>What people write is read whole, as long as it fits.</summary>
    private const int MostRemarks = 12;

    /// <summary>Codes whose advice is another for another value: each has a line of its own.</summary>
    private static readonly HashSet<string> AdvisedEach =
        [FindingCode.KitPlaceUnknown, FindingCode.KitMassWord, FindingCode.KitUnsure, FindingCode.MassTenfold, FindingCode.SignMissing,
            FindingCode.WordNotOurs, FindingCode.NotAllowed, FindingCode.NotANumber, FindingCode.CoordinatesSwapped,
            FindingCode.WeighingsSwapped, FindingCode.MassUnlikely];

    public Finding First => All[0];

    /// <summary>Findings of one code about one column together, in the order of the first of each.</summary>
    public static IReadOnlyList<FindingGroup> Of(IEnumerable<Finding> findings) =>
    [
        .. findings.GroupBy(finding => (finding.Code, finding.File, finding.Sheet, finding.Column, finding.Field,
            // what has no row is about a file as a whole, and each is another
            finding.Row is null ? finding.Found : null,
            AdvisedEach.Contains(finding.Code) ? finding.Expected + finding.Mend : null)).Select(group => new FindingGroup([.. group])),
    ];

    /// <summary>Where: file, sheet, column, and every row or cell.</summary>
    public string Where(Phrases words) => string.Join(", ", new[]
    {
        First.File,
        First.Sheet is { } sheet ? words.Say("answer.sheet", sheet) : null,
        Cells(words) ?? Rows(words),
        First.Column is { } column
            ? words.Say(First.File == SchemaCatalogue.DescriptorName ? "waiting.entry" : "waiting.column", column) : null,
        First is { Field: { } field, IsToldOfKit: false } ? words.Say("waiting.field", field) : null,
    }.OfType<string>());

    /// <summary>What was found; where it differs from row to row each with its place, as long as there are few.</summary>
    public string Found(Phrases words) => words.Say(IsFew ? "answer.found" : "answer.found.others", FoundAlone(words));

    /// <summary>The same without the words that lead to it.</summary>
    public string FoundAlone(Phrases words)
    {
        Finding[] each = [.. All.DistinctBy(finding => finding.Found)];
        return each.Length == 1 || !IsFew ? FindingWords.Found(First, words)
            : string.Join(", ", each.Select(finding => $"{FindingWords.Found(finding, words)} ({Places(finding.Found, words)})"));
    }

    private bool IsFew => All.Select(finding => finding.Found).Distinct().Count() is var different
        && (different == 1 || (different <= (First.Code == FindingCode.RemarkUnread ? MostRemarks : MostFound)
            && All.All(finding => (finding.Cell ?? finding.Row as object) is not null)));

    private string Places(string found, Phrases words)
    {
        FindingGroup same = new([.. All.Where(finding => finding.Found == found)]);
        string[] cells = [.. same.All.Select(finding => finding.Cell).OfType<string>().Distinct()];
        return cells.Length > 0 ? string.Join(", ", cells) : same.Rows(words) ?? "";
    }

    /// <summary>All of it in one line.</summary>
    public string Line(Phrases words)
    {
        string own = "line." + First.Code;
        return ReceivedText.OneLine(words.Say(words.FindText(own) is null ? "answer.line" : own, Where(words), Found(words),
            FindingWords.Expected(First, words).TrimEnd('.'), FindingWords.ToDo(First, words), FoundAlone(words)), ' ');
    }

    private string? Rows(Phrases words) => FindingWords.Rows(All.Select(finding => finding.Row), words);

    private string? Cells(Phrases words)
    {
        string[] cells = [.. All.Select(finding => finding.Cell).OfType<string>().Distinct()];
        return cells.Length == 0 ? null : cells.Length == 1 ? words.Say("answer.cell", cells[0])
            : words.Say("answer.cells", string.Join(", ", cells.Take(MostPlaces)) + (cells.Length > MostPlaces ? ", …" : ""));
    }

    /// <summary>Numbers as people write them: 2–21, 25.</summary>
    public static string Stretches(IEnumerable<int> numbers)
    {
        List<(int From, int To)> stretches = [];
        foreach (int n in numbers.Distinct().Order())
        {
            if (stretches.Count > 0 && stretches[^1].To == n - 1)
                stretches[^1] = (stretches[^1].From, n);
            else
                stretches.Add((n, n));
        }
        return string.Join(", ", stretches.Take(MostPlaces)
            .Select(s => s.From == s.To ? Invariant($"{s.From}") : Invariant($"{s.From}–{s.To}")))
            + (stretches.Count > MostPlaces ? ", …" : "");
    }
}
