namespace DecayAtlas.Pipeline.Stages;

public interface IStageOutput
{
    /// <summary>What came of the stage, in one sentence without a full stop.</summary>
    string Sentence { get; }
}
