namespace DecayAtlas.Cli.Commands.Nights;

/// <summary>Runs every stage of a configuration; where it has a demo, the scenario is made first and the result held against its
/// truth.</summary>
internal sealed class RunCommand(Screen screen) : PlainCommand<RunSettings>
{
    protected override int Execute(RunSettings settings)
    {
        PipelineConfiguration configuration = ConfigurationReader.Read(settings.File);
        ProgressStyle style = settings.LogJson ? ProgressStyle.JsonLines : settings.Json ? ProgressStyle.Silent : ProgressStyle.ForPeople;
        if (settings.DryRun)
            return Plan(configuration, settings.Json);

        (FlowResult result, RunRecord record) = screen.WithProgress(style, observer =>
        {
            if (configuration.Demo is not { } demo)
                return Flow.Execute(configuration, observer, "all");
            DemoScenario.Make(demo.Folder, demo.Seed, demo.IsGraded, observer);
            return Flow.Execute(configuration, observer, "all", DemoVerdict.BrokenOnPurpose(demo.Folder));
        });
        DemoVerdict? verdict = configuration.Demo is { } scenario ? DemoVerdict.Of(scenario.Folder, configuration, result) : null;

        if (settings.Json)
        {
            screen.Json(verdict is null ? new { run = record } : (object)new { run = record, demo = verdict });
        }
        else
        {
            RunReport.Write(screen, result, record);
            verdict?.Write(screen);
        }

        return record.ExitCode;
    }

    private int Plan(PipelineConfiguration configuration, bool isJson)
    {
        if (!Directory.Exists(configuration.Inbox))
        {
            throw new ConfigurationException($"{configuration.Path}: inbox {configuration.Inbox} does not exist; make the folder or "
                + "correct the path.");
        }

        RunPlan plan = RunPlan.Make(configuration);
        if (isJson)
        {
            screen.Json(plan);
            return CodeOf(plan);
        }

        PlannedIntake[] unknown = [.. plan.Inbox.Where(i => i.Outcome.StartsWith("would", StringComparison.Ordinal))];
        screen.Lines(unknown.Select(i => $"{i.Name}: {i.Outcome}{(i.FirstFinding is null ? "" : $" ({i.FirstFinding})")}."));
        screen.Line($"Inbox: {plan.Inbox.Count - unknown.Length} of {plan.Inbox.Count} known already.");
        foreach (IGrouping<string, PlannedComputation> why in plan.ToCompute.GroupBy(c => c.Because))
        {
            string ids = string.Join(", ", why.Take(5).Select(c => c.ContributorId)) + (why.Count() > 5 ? ", ..." : "");
            screen.Line($"Compute {why.Count()} of {plan.Contributors} contributor{(plan.Contributors == 1 ? "" : "s")}, "
                + $"because {(why.Key == "new" ? "they are new" : why.Key)}: {ids}.");
        }

        screen.Line(plan.ToCompute.Count == 0
            ? "Nothing to compute: no release would be written, unless the title or publisher changed."
            : "A release is written if any row comes out differently; model and map follow it.");
        screen.Lines(plan.IdleDecisions.Select(idle => $"A decision would find nothing: {idle}."));
        return CodeOf(plan);
    }

    // the file of decisions is all that a plan can find to mend
    private static int CodeOf(RunPlan plan) => plan.IdleDecisions.Count == 0 ? RecordedRun.Done : RecordedRun.NeedsPerson;
}
