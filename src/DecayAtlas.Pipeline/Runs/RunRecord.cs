using System.Globalization;
using System.Text.Json;
using DecayAtlas.Atlas;
using DecayAtlas.Atlas.Storage;
using DecayAtlas.Contributions;

namespace DecayAtlas.Pipeline.Runs;

/// <summary>What one run did: the only document of the atlas that carries clock time.</summary>
public sealed record RunRecord
{
    public required string Configuration { get; init; }

    public required DateTimeOffset StartedAt { get; init; }

    public required DateTimeOffset EndedAt { get; init; }

    /// <summary>The last stage that ran.</summary>
    public required string LastStage { get; init; }

    public required IReadOnlyList<StageTiming> Stages { get; init; }

    /// <summary>How many things in the inbox were accepted, quarantined, or known already.</summary>
    public required IReadOnlyDictionary<string, int> Intake { get; init; }

    /// <summary>What was quarantined in this run, with the first finding of each.</summary>
    public required IReadOnlyList<QuarantinedNow> Quarantined { get; init; }

    /// <summary>What came in this run and is only history, since a higher revision of it was accepted before.</summary>
    public required IReadOnlyList<string> CameLate { get; init; }

    /// <summary>How many things lie in the quarantine and were neither accepted nor followed by something in their place.</summary>
    public required int QuarantineOpen { get; init; }

    /// <summary>What decisions name and is not there.</summary>
    public required IReadOnlyList<string> IdleDecisions { get; init; }

    /// <summary>Flags by code.</summary>
    public required IReadOnlyDictionary<string, int> Flags { get; init; }

    /// <summary>Burials by use.</summary>
    public required IReadOnlyDictionary<string, int> BurialsByUse { get; init; }

    /// <summary>Burials without k, by reason.</summary>
    public required IReadOnlyDictionary<string, int> RateMissing { get; init; }

    public string? ReleaseId { get; init; }

    public bool? ReleaseIsNew { get; init; }

    /// <summary>Rows a table of the release.</summary>
    public IReadOnlyDictionary<string, int>? ReleaseRows { get; init; }

    /// <summary>SHA-256 of the release's list of checksums, so that a list that was changed with its files is noticed too.</summary>
    public string? ReleaseChecksumsSha256 { get; init; }

    /// <summary>Files of the release whose part had rotted and was written anew from its rows.</summary>
    public IReadOnlyList<string>? PartsMended { get; init; }

    public string? Model { get; init; }

    public bool? ModelIsNew { get; init; }

    /// <summary>Why there is no model of S of this release, where one is asked for.</summary>
    public string? StabilisationFailure { get; init; }

    public string? Map { get; init; }

    public bool? MapIsNew { get; init; }

    /// <summary>The folder of the pages.</summary>
    public string? Pages { get; init; }

    public bool? PagesAreNew { get; init; }

    /// <summary>What went wrong, where the run failed.</summary>
    public string? Failure { get; init; }

    public required int ExitCode { get; init; }

    private static string OfThisProcess => "." + Environment.ProcessId.ToString(CultureInfo.InvariantCulture);

    /// <summary>Writes the record to <c>runs/</c>, its name sorting by time, and beside it the latest metrics and summary.</summary>
    public string Save(AtlasFolder atlas)
    {
        AtlasFolder.MakePrivate(atlas.Runs);
        string stamp = StartedAt.UtcDateTime.ToString("yyyyMMdd'T'HHmmss'.'fff'Z'", CultureInfo.InvariantCulture);
        string path = Path.Combine(atlas.Runs, $"{stamp}-{Environment.ProcessId.ToString(CultureInfo.InvariantCulture)}.json");
        DurableFile.WriteText(path, JsonSerializer.Serialize(this, JsonText.Options) + "\n");
        // under a name of this process, since a run that found the atlas held writes beside the run that holds it
        DurableFile.WriteText(Path.Combine(atlas.Runs, Metrics.FileName), Metrics.Of(this), OfThisProcess);
        DurableFile.WriteText(Path.Combine(atlas.Runs, NightSummary.FileName), NightSummary.Of(this) + "\n", OfThisProcess);
        return path;
    }
}

/// <summary>How long a stage took (s).</summary>
public sealed record StageTiming(string Stage, double Seconds, string Outcome);

/// <summary>A contribution that was quarantined, and why.</summary>
public sealed record QuarantinedNow(string Source, string? ContributionId, int Findings, string FirstFinding)
{
    /// <summary>Its name in the inbox, without the ending of an archive or workbook.</summary>
    internal string InboxName => Path.GetFileNameWithoutExtension(Path.TrimEndingDirectorySeparator(Source));

    public static QuarantinedNow Of(IntakeResult result) => new(
        result.Source, result.ContributionId, result.Findings.Count,
        result.Findings.Count == 0 ? "no finding was recorded" : Describe(result.Findings[0]));

    // where and what was expected, not what was found: a cell may hold an exact place or a name, and records and logs are read by many
    internal static string Describe(Finding finding) => string.Concat(
        ReceivedText.Name(finding.File),
        finding.Row is { } row ? string.Create(CultureInfo.InvariantCulture, $", row {row}") : "",
        finding.Column is { } column ? $", column {ReceivedText.Name(column)}" : "",
        $": expected {finding.Expected}");
}
