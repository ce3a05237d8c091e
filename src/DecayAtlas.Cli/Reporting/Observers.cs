using System.Text.Json;
using Spectre.Console;

namespace DecayAtlas.Cli.Reporting;

/// <summary>Says nothing.</summary>
internal class SilentObserver : IRunObserver
{
    public virtual void StageStarted(string stage) { }

    public virtual void StageProgressed(string stage, string what, int done, int of) { }

    public virtual void StageFinished(string stage, string sentence) { }
}

/// <summary>Lets one call through in some seconds: a log is to show that a long stage moves, and not to fill.</summary>
internal sealed class NowAndThen(TimeProvider clock)
{
    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(15);

    private readonly Lock _lock = new();
    private long _last;

    /// <summary>A stage began, whose first pause starts now.</summary>
    public void Restart()
    {
        lock (_lock)
            _last = clock.GetTimestamp();
    }

    public bool IsTime()
    {
        lock (_lock)
        {
            long now = clock.GetTimestamp();
            if (clock.GetElapsedTime(_last, now) < Pause)
                return false;
            _last = now;
            return true;
        }
    }

    public static int Percent(int done, int of) => (int)(100L * Math.Min(done, of) / Math.Max(of, 1));
}

/// <summary>One line a stage, when it ends, and one now and then where it is long.</summary>
internal sealed class LineObserver(Screen screen, TimeProvider? clock = null) : SilentObserver
{
    private readonly NowAndThen _pace = new(clock ?? TimeProvider.System);

    public override void StageStarted(string stage) => _pace.Restart();

    public override void StageProgressed(string stage, string what, int done, int of)
    {
        if (_pace.IsTime())
            screen.ErrorLine($"{stage}: {NowAndThen.Percent(done, of)} % ({what})");
    }

    public override void StageFinished(string stage, string sentence) => screen.ErrorLine($"{stage}: {sentence}");
}

/// <summary>One JSON object a line: time, stage, event, message.</summary>
internal sealed class JsonObserver(Screen screen, TimeProvider? clock = null) : SilentObserver
{
    private readonly NowAndThen _pace = new(clock ?? TimeProvider.System);

    public override void StageStarted(string stage)
    {
        _pace.Restart();
        Write(stage, "started", null);
    }

    public override void StageProgressed(string stage, string what, int done, int of)
    {
        if (_pace.IsTime())
            Write(stage, "progressed", $"{NowAndThen.Percent(done, of)} % ({what})");
    }

    public override void StageFinished(string stage, string sentence) => Write(stage, "finished", sentence);

    private void Write(string stage, string happened, string? message) => screen.ErrorLine(JsonSerializer.Serialize(
        new { Time = $"{DateTimeOffset.UtcNow:O}", Level = "info", stage, Event = happened, message }, Screen.OneLine));
}

/// <summary>A bar a stage. Stages report from several threads.</summary>
internal sealed class BarObserver(ProgressContext context) : IRunObserver
{
    private readonly Dictionary<string, ProgressTask> _tasks = [];

    public void StageStarted(string stage) => _tasks[stage] = context.AddTask(stage.PadRight(10));

    public void StageProgressed(string stage, string what, int done, int of)
    {
        ProgressTask task = _tasks[stage];
        lock (task)
        {
            task.MaxValue = Math.Max(of, 1);
            task.Value = Math.Max(task.Value, done);
            task.Description = $"{stage,-10} [grey]{Markup.Escape(what)}[/]";
        }
    }

    public void StageFinished(string stage, string sentence)
    {
        ProgressTask task = _tasks[stage];
        task.Value = task.MaxValue;
        task.Description = $"{stage,-10} {Markup.Escape(sentence)}";
        task.StopTask();
    }
}
