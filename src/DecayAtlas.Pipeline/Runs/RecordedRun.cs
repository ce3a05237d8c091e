namespace DecayAtlas.Pipeline.Runs;

/// <summary>A run that holds the atlas for itself and leaves a record in it, whether it ends well or not.</summary>
public static class RecordedRun
{
    /// <summary>Finished, and no person needed.</summary>
    public const int Done = 0;

    /// <summary>
    /// Finished, and something in this run needs a person: a contribution was quarantined or came after a higher revision of it, a part had
    /// rotted, the intake had lost something that the inbox brought back, a decision found nothing, a model changed by more than noise, or
    /// something failed of one thing while the others went on.
    /// </summary>
    public const int NeedsPerson = 1;

    /// <summary>The command line or the configuration is wrong.</summary>
    public const int Usage = 2;

    /// <summary>A stage failed; what was current before it still is.</summary>
    public const int Failed = 3;

    /// <param name="expectedBroken">Names in the inbox that are broken on purpose.</param>
    internal static (FlowResult Result, RunRecord Record) Of(
        PipelineConfiguration configuration, IRunObserver observer, IReadOnlySet<string>? expectedBroken,
        Action<StageClock, FlowResult> run)
    {
        DateTimeOffset started = DateTimeOffset.UtcNow;
        AtlasFolder atlas = new(configuration.Atlas);
        StageClock clock = new(observer);
        FlowResult made = new();
        using AtlasLock held = TakeOrRecord();
        try
        {
            MailDesk.Begin(configuration, started);
            run(clock, made);
            // a sender is told what became of a contribution when it has become that: once a release has it
            if (made is { Published: not null, Intake: { } received })
                made.Mails = MailDesk.Write(configuration, received.StillOpen, started);
            RunRecord record = RecordOf(null);
            record.Save(atlas);
            if (made.Intake is { } taken)
                new Intake(configuration.Atlas, configuration.Limits).MarkTold(taken.Taken);
            return (made, record);
        }
        catch (Exception thrown)
        {
            // work on several threads wraps what one of them threw
            Exception e = thrown is AggregateException { InnerExceptions.Count: > 0 } many ? many.Flatten().InnerExceptions[0] : thrown;
            RunRecord record = RecordOf(e);
            TrySave(record, atlas);
            throw new FailedRunException(record, e);
        }

        // a night that could not begin leaves a summary too, or nobody would learn of a run that hangs
        AtlasLock TakeOrRecord()
        {
            try
            {
                return AtlasLock.Take(atlas);
            }
            catch (AtlasBusyException busy)
            {
                TrySave(RecordOf(busy), atlas);
                throw;
            }
        }

        RunRecord RecordOf(Exception? failure) =>
            RecordedRun.RecordOf(configuration, clock, made, started, expectedBroken, failure);
    }

    private static RunRecord RecordOf(PipelineConfiguration configuration, StageClock clock, FlowResult made, DateTimeOffset started,
        IReadOnlySet<string>? expectedBroken, Exception? failure)
    {
        IReadOnlyList<IntakeResult> taken = made.Intake?.Taken ?? [];
        IntakeResult[] quarantined = [.. taken.Where(t => t.Outcome == IntakeOutcome.Quarantined)];
        HashSet<string> open = [.. (made.Intake?.StillOpen ?? []).Select(o => o.ContentHash)];
        // by its name in the inbox, which the record does not keep
        bool isExpected = quarantined.Select(q => Path.GetFileNameWithoutExtension(Path.TrimEndingDirectorySeparator(q.Source)))
            .All(name => expectedBroken?.Contains(name) == true);
        WorkCounts? counts = made.Computed?.Counts;
        IReadOnlyList<Trouble> troubles = Trouble.Of(made);
        string[] idle = [.. made.Computed?.IdleDecisions ?? [], .. made.CrossChecked?.Result.IdleDecisions ?? []];
        return new RunRecord
        {
            Configuration = configuration.Path,
            Atlas = configuration.Atlas,
            StartedAt = started,
            EndedAt = DateTimeOffset.UtcNow,
            LastStage = clock.Timings.Count == 0 ? "none" : clock.Timings[^1].Stage,
            Stages = [.. clock.Timings],
            Intake = Tally.Of(taken, t => AtlasCode.Of(t.Outcome)),
            Quarantined = [.. quarantined.Select(q => QuarantinedNow.Of(PublicIntake.Of(q), open, configuration.Atlas,
                CampaignFiles.TitleOfGroup(configuration.Campaigns, q.ContributorId)))],
            CameLate = [.. taken.Where(t => t.Outcome == IntakeOutcome.AcceptedLate).Select(t => PublicIntake.Of(t).Name)],
            Shrunk = [.. taken.Where(t => t.Shrunk is not null).Select(t => Invariant(
                $"{PublicIntake.Of(t).Name} replaces {t.Shrunk!.Value.Before} burials by {t.Shrunk.Value.Now}"))],
            Troubles = troubles,
            Restored = made.Intake?.Restored ?? [],
            Lost = (failure as LostContributionsException)?.Lost,
            QuarantineOpen = made.Intake?.StillOpen.Count,
            IdleWords = made.Computed?.IdleWords ?? [],
            IdleDecisions = idle,
            Flags = Tally.Sum([counts?.Flags ?? [], made.CrossChecked?.Result.Flags ?? []]),
            BurialsByUse = counts?.BurialsByUse ?? [],
            BurialsThatCount = counts?.BurialsThatCount ?? 0,
            RateMissing = counts?.RateMissing ?? [],
            ResultsByUse = counts?.ResultsByUse ?? [],
            ResultsByEvidence = counts?.ResultsByEvidence ?? [],
            ReleaseId = made.Published?.Release.Release.ToString(),
            ReleaseIsNew = made.Published?.Release.IsNew,
            ReleaseRows = made.Published?.Release.RowCounts,
            Model = made.Model?.Folder,
            ModelIsNew = made.Model?.IsNew,
            ModelChanges = made.ModelChanges,
            StabilisationFailure = made.Model?.StabilisationFailure,
            Map = made.Map?.Folder,
            MapIsNew = made.Map?.IsNew,
            StabilisationMap = made.Map?.Stabilisation?.Folder,
            JointMap = made.Map?.Joint?.Folder,
            MapsLeftOut = made.Map?.LeftOut,
            Pages = made.Pages?.Folder,
            PagesAreNew = made.Pages?.AreNew,
            Mails = made.Mails,
            ReleaseChecksumsSha256 = made.Published?.Release.ChecksumsSha256,
            PartsMended = made.Published?.Mended,
            Failure = failure is null ? null : ReceivedText.Masked(RunFailure.Sentence(failure)),
            ExitCode = failure is ConfigurationException ? Usage : failure is not null ? Failed
                : troubles.Count == 0 && taken.All(t => t.Outcome != IntakeOutcome.AcceptedLate)
                    && made.Published?.Mended is not { Count: > 0 }
                    && made.Intake is not { Restored.Count: > 0 } && idle.Length == 0
                    && made.ModelChanges.All(change => change.Contributions.Count == 0)
                    && made.Model?.StabilisationFailure is null && made.Map?.IsBroken is not true && isExpected ? Done : NeedsPerson,
        };
    }

    private static void TrySave(RunRecord record, AtlasFolder atlas)
    {
        try
        {
            record.Save(atlas);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or StorageException)
        {
            // The atlas can't take a record: the failure itself, which the caller reports, says more than this would.
        }
    }
}
