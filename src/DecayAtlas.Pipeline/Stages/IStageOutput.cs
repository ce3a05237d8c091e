namespace DecayAtlas.Pipeline.Stages;

/// <summary>What every stage's output can say of itself.</summary>
public interface IStageOutput
{
    /// <summary>What came of the stage, in one sentence without a full stop.</summary>
    string Sentence { get; }
}
