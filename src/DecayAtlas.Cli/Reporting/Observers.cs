using System.Globalization;
using System.Text.Json;
using Spectre.Console;

namespace DecayAtlas.Cli.Reporting;

/// <summary>Says nothing.</summary>
internal sealed class SilentObserver : IRunObserver
{
    public void StageStarted(string stage) { }

    public void StageProgressed(string stage, string what, int done, int of) { }

    public void StageFinished(string stage, string sentence) { }
}

/// <summary>One line a stage, when it ends.</summary>
internal sealed class LineObserver(Screen screen) : IRunObserver
{
    public void StageStarted(string stage) { }

    public void StageProgressed(string stage, string what, int done, int of) { }

    public void StageFinished(string stage, string sentence) => screen.ErrorLine($"{stage}: {sentence}");
}

/// <summary>One JSON object a line: time, stage, event, message.</summary>
internal sealed class JsonObserver(Screen screen) : IRunObserver
{
    private static readonly JsonSerializerOptions OneLine = new(JsonText.Options) { WriteIndented = false };

    public void StageStarted(string stage) => Write(stage, "started", null);

    public void StageProgressed(string stage, string what, int done, int of) { }

    public void StageFinished(string stage, string sentence) => Write(stage, "finished", sentence);

    private void Write(string stage, string happened, string? message) => screen.ErrorLine(JsonSerializer.Serialize(new
    {
        time = DateTimeOffset.UtcNow.ToString("O", CultureInfo.InvariantCulture),
        level = "info",
        stage,
        @event = happened,
        message,
    }, OneLine));
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
