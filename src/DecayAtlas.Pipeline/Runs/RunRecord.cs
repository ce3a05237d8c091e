using System.Text.Json;

namespace DecayAtlas.Pipeline.Runs;

/// <summary>What one run did: the only document of the atlas that carries clock time.</summary>
public sealed record RunRecord
{
    public required string Configuration { get; init; }

    /// <summary>The folder of the atlas.</summary>
    public string Atlas { get; init; } = "";

    public required DateTimeOffset StartedAt { get; init; }

    public required DateTimeOffset EndedAt { get; init; }

    public required string LastStage { get; init; }

    public required IReadOnlyList<StageTiming> Stages { get; init; }

    /// <summary>How many things in the inbox were accepted, quarantined, or known already.</summary>
    public required IReadOnlyDictionary<string, int> Intake { get; init; }

    public required IReadOnlyList<QuarantinedNow> Quarantined { get; init; }

    /// <summary>What came in this run and is only history, since a higher revision of it was accepted before.</summary>
    public required IReadOnlyList<string> CameLate { get; init; }

    /// <summary>Revisions that came in this run with less than half of the burials that they take the place of.</summary>
    public IReadOnlyList<string> Shrunk { get; init; } = [];

    public IReadOnlyList<Trouble> Troubles { get; init; } = [];

    /// <summary>What the next release would have lacked, where the run refused to publish it.</summary>
    public IReadOnlyList<LostContribution>? Lost { get; init; }

    /// <summary>What was missing from the intake and was taken from the inbox again, in the same or a higher revision.</summary>
    public IReadOnlyList<LostContribution> Restored { get; init; } = [];

    /// <summary>
    /// How many things lie in the quarantine and were neither accepted nor followed by something in their place; missing where the run
    /// did not look.
    /// </summary>
    public required int? QuarantineOpen { get; init; }

    public required IReadOnlyList<string> IdleDecisions { get; init; }

    /// <summary>Entries of the vocabulary file (list/word/our word) for words that nobody sent.</summary>
    public IReadOnlyList<string> IdleWords { get; init; } = [];

    public required IReadOnlyDictionary<string, int> Flags { get; init; }

    public required IReadOnlyDictionary<string, int> BurialsByUse { get; init; }

    /// <summary>Accepted burials with a k, as pages and mails count them.</summary>
    public int BurialsThatCount { get; init; }

    /// <summary>Burials without k, by reason.</summary>
    public required IReadOnlyDictionary<string, int> RateMissing { get; init; }

    /// <summary>Means that stand for burials, each row once.</summary>
    public IReadOnlyDictionary<string, int> ResultsByUse { get; init; } = new Dictionary<string, int>();

    public IReadOnlyDictionary<string, int> ResultsByEvidence { get; init; } = new Dictionary<string, int>();

    public string? ReleaseId { get; init; }

    public bool? ReleaseIsNew { get; init; }

    public IReadOnlyDictionary<string, int>? ReleaseRows { get; init; }

    /// <summary>SHA-256 of the release's list of checksums, so that a list that was changed with its files is noticed too.</summary>
    public string? ReleaseChecksumsSha256 { get; init; }

    /// <summary>Files of the release whose part had rotted and was written anew from its rows.</summary>
    public IReadOnlyList<string>? PartsMended { get; init; }

    public string? Model { get; init; }

    public bool? ModelIsNew { get; init; }

    /// <summary>How models changed by more than noise.</summary>
    public IReadOnlyList<ModelChange> ModelChanges { get; init; } = [];

    /// <summary>Why there is no model of S of this release, where one is asked for.</summary>
    public string? StabilisationFailure { get; init; }

    public string? Map { get; init; }

    public bool? MapIsNew { get; init; }

    public string? StabilisationMap { get; init; }

    public string? JointMap { get; init; }

    /// <summary>Why there is no map of S, or none of k and S together, where they are asked for.</summary>
    public IReadOnlyList<string>? MapsLeftOut { get; init; }

    public string? Pages { get; init; }

    public bool? PagesAreNew { get; init; }

    /// <summary>Drafts of mails that this run wrote.</summary>
    public MailDesk.Output? Mails { get; init; }

    public string? Failure { get; init; }

    public required int ExitCode { get; init; }

    /// <summary>Says that the intake had lost something that the inbox brought back; <see langword="null"/> where it had not.</summary>
    public string? RestoredSentence() => Restored.Count switch
    {
        0 => null,
        1 => "1 contribution was missing from the intake and was taken from the inbox again, "
            + "in the same or a higher revision; look after the disk",
        int n => Invariant($"{n} contributions were missing from the intake and were taken from the inbox again, ")
            + "each in the same or a higher revision; look after the disk",
    };

    /// <summary>The curator's list of all that waits.</summary>
    public string WaitingSentence() => "What waits is in quarantine/waiting.md of the atlas "
        + $"({Path.Combine(Atlas, "quarantine", "waiting.md")}), with its name in the inbox and all findings.";

    /// <summary>What everybody finds in the atlas after the run failed.</summary>
    public string StandsSentence() => ReleaseIsNew != true ? "The release that was current before still is."
        : $"Release {ReleaseId} is published; {(Map is null ? "map and pages" : "pages")} are still those of before, or missing.";

    /// <summary>How many burials count, in the one number that pages and mails say too, and what became of the others;
    /// <see langword="null"/> where there are none.</summary>
    public string? BurialsSentence()
    {
        if (BurialsByUse.Count == 0)
            return null;
        int without = BurialsByUse.GetValueOrDefault("accepted") - BurialsThatCount;
        string others = Counts(BurialsByUse.Where(use => use.Key != "accepted")
            .Prepend(new KeyValuePair<string, int>("accepted without k", without)).Where(use => use.Value > 0));
        return $"Burials: {BurialsThatCount} of {BurialsByUse.Values.Sum()} count{(others.Length == 0 ? "" : "; " + others)}";
    }

    /// <summary>How many means stand for burials, by use and by evidence; <see langword="null"/> where none were sent.</summary>
    public string? ResultsSentence() => ResultsByUse.Count == 0 ? null
        : $"Results in place of weighings: {Counts(ResultsByUse)}; {Counts(ResultsByEvidence)}";

    /// <summary>As "12 accepted, 3 suspect".</summary>
    public static string Counts<T>(IEnumerable<KeyValuePair<string, T>> counts) =>
        string.Join(", ", counts.Select(x => $"{x.Value} {x.Key}"));

    /// <summary>Writes the record to <c>runs/</c>, its name sorting by time, and beside it the latest metrics and summary.</summary>
    public string Save(AtlasFolder atlas)
    {
        AtlasFolder.MakePrivate(atlas.Runs);
        int process = Environment.ProcessId;
        string ofThisProcess = Invariant($".{process}");
        string path = Path.Combine(atlas.Runs, Invariant($"{StartedAt.UtcDateTime:yyyyMMdd'T'HHmmss'.'fff'Z'}-{process}.json"));
        DurableFile.WriteText(path, JsonSerializer.Serialize(this, JsonText.Options) + "\n");
        // under a name of this process, since a run that found the atlas held writes beside the run that holds it
        DurableFile.WriteText(Path.Combine(atlas.Runs, Metrics.FileName), Metrics.Of(this), ofThisProcess);
        DurableFile.WriteText(Path.Combine(atlas.Runs, NightSummary.FileName), NightSummary.Of(this) + "\n", ofThisProcess);
        return path;
    }
}

/// <summary>How long a stage took (s).</summary>
public sealed record StageTiming(string Stage, double Seconds, string Outcome);

/// <summary>What failed of one thing while the others went on, said without anything that was received.</summary>
/// <param name="Why">What happened, as a clause.</param>
public sealed record Trouble(string Over, string Why, string Then)
{
    public required bool IsMistake { get; init; }

    /// <summary>How many there are, and what is to be done where the program made a mistake.</summary>
    public static string Heading(IReadOnlyList<Trouble> troubles) =>
        Invariant($"Failed, while all others went on: {troubles.Count}.")
        + (troubles.Any(t => t.IsMistake) ? " Where the program made a mistake, no sender is to blame; please report it." : "");

    public override string ToString() => $"{Over}: {Why}; {Then}";

    internal static IReadOnlyList<Trouble> Of(FlowResult made) =>
    [
        .. (made.Intake?.Taken ?? []).Where(t => t.Mistake is not null && t.Outcome == IntakeOutcome.Quarantined).Select(Of),
        .. (made.Computed?.Failed ?? []).Select(f => new Trouble($"contributor {f.ContributorId}", f.Failure.Why,
            f.HasEarlierRows ? "its rows of an earlier run stand, and it is computed again in the next run"
                : "it is left out, and computed again in the next run")
        {
            IsMistake = f.Failure.IsMistake,
        }),
        .. (made.Pages?.Failed ?? []).Select(f => new Trouble($"page {f.Path}", $"the program made a mistake, {f.Mistake}",
            "a page that says so stands in its place, and the pages are made again in the next run")
        {
            IsMistake = true,
        }),
    ];

    private static Trouble Of(IntakeResult result) => new(
        PublicIntake.Of(result) is { ContentHash: { } } kept ? $"contribution {kept.Name}" : PublicIntake.Of(result).Name,
        $"the program made a mistake, {result.Mistake}",
        result.ContentHash.Length == 0 ? "nothing of it was kept, and it is tried again in the next run"
            : "it waits in the quarantine, and is examined again when the program changed")
    {
        IsMistake = true,
    };
}

/// <summary>A contribution that was quarantined, and why, as everybody may know it; what it is called is in
/// quarantine/waiting.md.</summary>
/// <param name="Name">Contribution id and the first digits of its content hash, which begin the name of its folder.</param>
/// <param name="FirstFinding">In the words of the pages.</param>
/// <param name="Report">The path of the report that goes to its sender; missing where nothing was kept.</param>
/// <param name="Group">The title that the curator's campaign file gives the group in whose name it was sent.</param>
/// <param name="Form">What kind of thing was sent, where that was clear.</param>
/// <param name="CameAgain">Something came in its place in the same run, so that it waits no longer.</param>
public sealed record QuarantinedNow(
    string Name, string? ContributionId, string? ContentHash, int Findings, string FirstFinding, bool CameAgain, string? Report,
    string? Group, string? Form)
{
    /// <param name="open">Folders of the quarantine that still wait.</param>
    internal static QuarantinedNow Of(PublicIntake aside, IReadOnlySet<string> open, string atlas, string? group) => new(
        aside.Name, aside.ContributionId, aside.ContentHash, aside.Findings.Count, Describe(aside),
        aside.ContentHash is { } hash && !open.Contains(hash),
        aside.ContentHash is { } kept ? Path.Combine(atlas, "quarantine", kept, "report.md") : null, group,
        aside.Format is { } form ? AtlasCode.Of(form) : null);

    /// <summary>What it is called and why it was set aside, with a word more where nobody need look after it.</summary>
    public override string ToString() =>
        $"{Called}: {FirstFinding}{(Findings > 1 ? $" ({Findings - 1} more)" : "")}{(CameAgain ? " (came again in the same run)" : "")}";

    /// <summary>What it is called, and the path of its report.</summary>
    public string Line() => Report is null ? ToString() : $"{this}; report: {Report}";

    // without an id of its own it is told by what it is
    private string Called => (ContributionId is null && Form is { } form ? $"a {form.Replace('-', ' ')} without an id ({Name})" : Name)
        + (Group is null ? "" : $", {Group}");

    internal static string Describe(PublicIntake aside) =>
        aside.Findings.Count == 0 ? "no finding was recorded" : FindingWords.Line(aside.Findings[0], English);

    private static Language English { get; } = Language.Find("en")!;
}
