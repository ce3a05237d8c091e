using DecayAtlas.Atlas;
using DecayAtlas.Contributions;
using DecayAtlas.Decomposition;
using DecayAtlas.Pipeline.Configuration;

namespace DecayAtlas.Pipeline.Runs;

/// <summary>A run that leaves a record in the atlas, whether it ends well or not.</summary>
public static class RecordedRun
{
    /// <summary>Finished, and no person needed.</summary>
    public const int Done = 0;

    /// <summary>Finished, and something in this run needs a person: a contribution was quarantined.</summary>
    public const int NeedsPerson = 1;

    /// <summary>The command line or the configuration is wrong.</summary>
    public const int Usage = 2;

    /// <summary>A stage failed; what was current before it still is.</summary>
    public const int Failed = 3;

    /// <summary>Runs the flow up to a stage and records it.</summary>
    /// <exception cref="Exception">What the flow threw, after the failure was recorded.</exception>
    public static (FlowResult Result, RunRecord Record) Execute(PipelineConfiguration configuration, IRunObserver observer, string last)
    {
        DateTimeOffset started = DateTimeOffset.UtcNow;
        try
        {
            FlowResult result = last switch
            {
                "train" => Flow.RunTrain(configuration, observer),
                "map" => Flow.RunMap(configuration, observer),
                "all" => Flow.Run(configuration, observer),
                _ => Flow.Run(configuration, observer, last),
            };
            RunRecord record = RecordOf(configuration, result, started);
            record.Save(new AtlasFolder(configuration.Atlas));
            return (result, record);
        }
        catch (Exception e)
        {
            RecordFailure(configuration, started, e);
            throw;
        }
    }

    private static RunRecord RecordOf(PipelineConfiguration configuration, FlowResult result, DateTimeOffset started)
    {
        IReadOnlyList<IntakeResult> taken = result.Intake?.Taken ?? [];
        QuarantinedNow[] quarantined = [.. taken.Where(t => t.Outcome == IntakeOutcome.Quarantined).Select(QuarantinedNow.Of)];
        return new RunRecord
        {
            Configuration = configuration.Path,
            StartedAt = started,
            EndedAt = DateTimeOffset.UtcNow,
            LastStage = result.Timings.Count == 0 ? "none" : result.Timings[^1].Stage,
            Stages = [.. result.Timings],
            Intake = Count(taken, t => AtlasCode.Of(t.Outcome)),
            Quarantined = quarantined,
            Flags = Count(result.Flags?.Flags ?? [], f => f.Code),
            BurialsByUse = result.Flags is { } flags ? Count(result.Index!.Burials, b => AtlasCode.Of(flags.Verdicts.Of(b).Use)) : Nothing,
            RateMissing = Count((result.Index?.Burials ?? []).Where(b => b.RatePerDay.Reason is not null), b => b.RatePerDay.Reason!.Value.Code()),
            ReleaseId = result.Published?.Release.Id,
            ReleaseIsNew = result.Published?.Release.IsNew,
            ReleaseRows = result.Published?.Release.RowCounts,
            Model = result.Model?.Folder,
            ModelIsNew = result.Model?.IsNew,
            Map = result.Map?.Folder,
            MapIsNew = result.Map?.IsNew,
            ExitCode = quarantined.Length > 0 ? NeedsPerson : Done,
        };
    }

    private static void RecordFailure(PipelineConfiguration configuration, DateTimeOffset started, Exception failure)
    {
        try
        {
            new RunRecord
            {
                Configuration = configuration.Path,
                StartedAt = started,
                EndedAt = DateTimeOffset.UtcNow,
                LastStage = "failed",
                Stages = [],
                Intake = Nothing,
                Quarantined = [],
                Flags = Nothing,
                BurialsByUse = Nothing,
                RateMissing = Nothing,
                Failure = failure.Message,
                ExitCode = failure is ConfigurationException ? Usage : Failed,
            }.Save(new AtlasFolder(configuration.Atlas));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // The atlas can't take a record: the failure itself, which the caller reports, says more than this would.
        }
    }

    private static SortedDictionary<string, int> Nothing => new(StringComparer.Ordinal);

    private static SortedDictionary<string, int> Count<T>(IEnumerable<T> items, Func<T, string> key)
    {
        SortedDictionary<string, int> counts = Nothing;
        foreach (T item in items)
            counts[key(item)] = counts.GetValueOrDefault(key(item)) + 1;
        return counts;
    }
}
