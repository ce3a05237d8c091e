using System.Diagnostics;

namespace DecayAtlas.Pipeline.Runs;

public sealed class StageClock(IRunObserver observer)
{
    private readonly List<StageTiming> _timings = [];

    public IReadOnlyList<StageTiming> Timings => _timings;

    public T Run<T>(string stage, Func<Action<string, int, int>, T> run) where T : IStageOutput
    {
        observer.StageStarted(stage);
        Stopwatch watch = Stopwatch.StartNew();
        T made = run((what, done, of) => observer.StageProgressed(stage, what, done, of));
        _timings.Add(new StageTiming(stage, Math.Round(watch.Elapsed.TotalSeconds, 3), made.Sentence));
        observer.StageFinished(stage, made.Sentence);
        return made;
    }
}
