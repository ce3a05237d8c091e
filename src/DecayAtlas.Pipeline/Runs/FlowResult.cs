namespace DecayAtlas.Pipeline.Runs;

/// <summary>What the stages made, as far as they ran: filled as they end, so that a failed run can still tell what it did.</summary>
public sealed class FlowResult
{
    public IngestStage.Output? Intake { get; set; }

    internal ComputeStage.Output? Computed { get; set; }

    internal CrossCheckStage.Output? CrossChecked { get; set; }

    public PublishStage.Output? Published { get; set; }

    public TrainStage.Output? Model { get; set; }

    public MapStage.Output? Map { get; set; }

    public IReadOnlyList<ModelChange> ModelChanges { get; set; } = [];

    public PagesStage.Output? Pages { get; set; }

    public MailDesk.Output? Mails { get; set; }
}
