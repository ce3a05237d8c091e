namespace DecayAtlas.Pipeline.Runs;

/// <summary>Is told how a run goes; a terminal shows it, a log or a test may not.</summary>
public interface IRunObserver
{
    void StageStarted(string stage);

    /// <param name="what">What is being worked on.</param>
    /// <param name="done">Steps done.</param>
    /// <param name="of">Steps in all.</param>
    void StageProgressed(string stage, string what, int done, int of);

    /// <param name="sentence">What came of the stage, in one sentence.</param>
    void StageFinished(string stage, string sentence);
}
