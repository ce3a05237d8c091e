using DecayAtlas.Atlas;
using DecayAtlas.Contributions;
using DecayAtlas.Pipeline.Configuration;
using DecayAtlas.Pipeline.Runs;
using DecayAtlas.Pipeline.Work;

namespace DecayAtlas.Pipeline.Stages;

/// <summary>The inbox -> what was accepted, what was quarantined, and what was known.</summary>
public static class IngestStage
{
    /// <summary>What happened to each thing in the inbox.</summary>
    public sealed record Output(IReadOnlyList<IntakeResult> Taken) : IStageOutput
    {
        public string Sentence =>
            $"{Count(IntakeOutcome.Accepted)} accepted, {Count(IntakeOutcome.Quarantined)} quarantined, {Taken.Count - Count(IntakeOutcome.Accepted) - Count(IntakeOutcome.Quarantined)} known";

        private int Count(IntakeOutcome outcome) => Taken.Count(t => t.Outcome == outcome);
    }

    public static Output Run(PipelineConfiguration configuration, Action<string, int, int>? progress)
    {
        if (!Directory.Exists(configuration.Inbox))
            throw new ConfigurationException($"{configuration.Path}: inbox {configuration.Inbox} does not exist; make the folder or correct the path.");
        var atlas = new AtlasFolder(configuration.Atlas);
        AtlasFolder.MakePrivate(atlas.Cache);
        return new Output(new Intake(configuration.Atlas, configuration.Limits)
            .TakeInbox(configuration.Inbox, progress, contribution => SurveyMemory.Remember(atlas, contribution)));
    }
}
