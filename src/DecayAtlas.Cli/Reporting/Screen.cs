using System.Text.Json;
using DecayAtlas.Atlas;
using DecayAtlas.Pipeline.Runs;
using Spectre.Console;

namespace DecayAtlas.Cli.Reporting;

/// <summary>Where commands write: results to standard output, progress and failures to standard error.</summary>
public sealed class Screen(TextWriter output, TextWriter error)
{
    private readonly IAnsiConsole _error = AnsiConsole.Create(new AnsiConsoleSettings { Out = new AnsiConsoleOutput(error) });

    public void Line(string text) => output.WriteLine(text);

    public void ErrorLine(string text) => error.WriteLine(text);

    /// <summary>Writes an object for machines.</summary>
    public void Json<T>(T value) => output.WriteLine(JsonSerializer.Serialize(value, JsonText.Options));

    /// <summary>Writes a table with a header line, columns as wide as they must be.</summary>
    public void Table(IReadOnlyList<string> header, IReadOnlyList<IReadOnlyList<string>> rows)
    {
        int[] widths = [.. header.Select((h, i) => rows.Select(r => r[i].Length).Append(h.Length).Max())];
        foreach (IReadOnlyList<string> row in rows.Prepend(header))
            Line("  " + string.Join("  ", row.Select((cell, i) => i == 0 ? cell.PadRight(widths[i]) : cell.PadLeft(widths[i]))).TrimEnd());
    }

    /// <summary>Runs work with progress: bars where a person watches, one line a stage in a log, nothing with <paramref name="isQuiet"/>.</summary>
    public T WithProgress<T>(bool isQuiet, Func<IRunObserver, T> work)
    {
        if (isQuiet)
            return work(new SilentObserver());
        if (!_error.Profile.Out.IsTerminal)
            return work(new LogObserver(this));
        return _error.Progress()
            .AutoClear(false)
            .Columns(new TaskDescriptionColumn { Alignment = Justify.Left }, new ProgressBarColumn(), new PercentageColumn(), new ElapsedTimeColumn())
            .Start(context => work(new BarObserver(context)));
    }

    private sealed class SilentObserver : IRunObserver
    {
        public void StageStarted(string stage) { }

        public void StageProgressed(string stage, string what, int done, int of) { }

        public void StageFinished(string stage, string sentence) { }
    }

    private sealed class LogObserver(Screen screen) : IRunObserver
    {
        public void StageStarted(string stage) { }

        public void StageProgressed(string stage, string what, int done, int of) { }

        public void StageFinished(string stage, string sentence) => screen.ErrorLine($"{stage}: {sentence}");
    }

    private sealed class BarObserver(ProgressContext context) : IRunObserver
    {
        private readonly Dictionary<string, ProgressTask> _tasks = [];

        public void StageStarted(string stage) => _tasks[stage] = context.AddTask(stage.PadRight(10));

        public void StageProgressed(string stage, string what, int done, int of)
        {
            ProgressTask task = _tasks[stage];
            task.MaxValue = Math.Max(of, 1);
            task.Value = done;
            task.Description = $"{stage,-10} [grey]{Markup.Escape(what)}[/]";
        }

        public void StageFinished(string stage, string sentence)
        {
            ProgressTask task = _tasks[stage];
            task.Value = task.MaxValue;
            task.Description = $"{stage,-10} {Markup.Escape(sentence)}";
            task.StopTask();
        }
    }
}
