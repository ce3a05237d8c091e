using DecayAtlas.Atlas;
using DecayAtlas.Contributions;
using DecayAtlas.Pipeline.Configuration;
using DecayAtlas.Pipeline.Runs;
using DecayAtlas.Pipeline.Work;

namespace DecayAtlas.Pipeline.Stages;

/// <summary>The inbox -> what was accepted, what was quarantined, and what was known.</summary>
public static class IngestStage
{
    /// <summary>What happened to each thing in the inbox, and what waits in the quarantine.</summary>
    public sealed record Output(IReadOnlyList<IntakeResult> Taken, IReadOnlyList<OpenQuarantine> StillOpen) : IStageOutput
    {
        public string Sentence =>
            $"{Count(IntakeOutcome.Accepted) + Count(IntakeOutcome.AcceptedLate)} accepted, {Count(IntakeOutcome.Quarantined)} quarantined, {Count(IntakeOutcome.AlreadyKnown) + Count(IntakeOutcome.AlreadyQuarantined)} known";

        private int Count(IntakeOutcome outcome) => Taken.Count(t => t.Outcome == outcome);
    }

    public static Output Run(PipelineConfiguration configuration, Action<string, int, int>? progress, HandOver? handOver = null)
    {
        if (!Directory.Exists(configuration.Inbox))
            throw new ConfigurationException($"{configuration.Path}: inbox {configuration.Inbox} does not exist; make the folder or correct the path.");
        var atlas = new AtlasFolder(configuration.Atlas);
        AtlasFolder.MakePrivate(atlas.Cache);
        var intake = new Intake(configuration.Atlas, configuration.Limits);
        IReadOnlyList<IntakeResult> taken = intake.TakeInbox(configuration.Inbox, progress, contribution =>
        {
            SurveyMemory.Remember(atlas, contribution);
            handOver?.Offer(contribution);
        });
        intake.WriteWaiting(taken);
        return new Output(taken, intake.StillOpen());
    }
}
