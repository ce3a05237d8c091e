using DecayAtlas.Contributions;
using DecayAtlas.Pipeline.Configuration;
using DecayAtlas.Pipeline.Runs;

namespace DecayAtlas.Pipeline.Stages;

/// <summary>The inbox -> what was accepted, what was quarantined, and every contribution that counts now.</summary>
public static class IngestStage
{
    /// <summary>What happened to each thing in the inbox, and the active contributions in order of their id.</summary>
    public sealed record Output(IReadOnlyList<IntakeResult> Taken, IReadOnlyList<Contribution> Contributions) : IStageOutput
    {
        public string Sentence =>
            $"{Taken.Count(t => t.Outcome == IntakeOutcome.Accepted)} accepted, {Taken.Count(t => t.Outcome == IntakeOutcome.Quarantined)} quarantined, {Contributions.Count} in the atlas";
    }

    public static Output Run(PipelineConfiguration configuration, Action<string, int, int>? progress)
    {
        if (!Directory.Exists(configuration.Inbox))
            throw new ConfigurationException($"{configuration.Path}: inbox {configuration.Inbox} does not exist; make the folder or correct the path.");
        var intake = new Intake(configuration.Atlas, configuration.Limits);
        IReadOnlyList<IntakeResult> taken = intake.TakeInbox(configuration.Inbox, progress);
        return new Output(taken, intake.Active());
    }
}
