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

/// <summary>One line a stage, when it ends.</summary>
internal sealed class LineObserver(Screen screen) : SilentObserver
{
    public override void StageFinished(string stage, string sentence) => screen.ErrorLine($"{stage}: {sentence}");
}

/// <summary>One JSON object a line: time, stage, event, message.</summary>
internal sealed class JsonObserver(Screen screen) : SilentObserver
{
    public override void StageStarted(string stage) => Write(stage, "started", null);

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
