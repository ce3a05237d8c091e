namespace DecayAtlas.Pipeline.Runs;

/// <summary>Is told how a run goes; a terminal shows it, a log or a test may not.</summary>
public interface IRunObserver
{
    void StageStarted(string stage);

    /// <param name="what">What is being worked on.</param>
    void StageProgressed(string stage, string what, int done, int of);

    void StageFinished(string stage, string sentence);
}
