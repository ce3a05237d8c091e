using System.Text.Json;
using Spectre.Console;

namespace DecayAtlas.Cli.Reporting;

/// <summary>Where commands write: results to standard output, progress and failures to standard error.</summary>
internal sealed class Screen(TextWriter output, TextWriter error)
{
    /// <summary>JSON for a log collector: one object a line.</summary>
    public static readonly JsonSerializerOptions OneLine = new(JsonText.Options) { WriteIndented = false };

    private readonly IAnsiConsole _error = AnsiConsole.Create(new AnsiConsoleSettings { Out = new AnsiConsoleOutput(error) });

    public void Line(string text) => output.WriteLine(text);

    public void Lines(IEnumerable<object> lines)
    {
        foreach (object line in lines) output.WriteLine(line);
    }

    public void ErrorLine(string text) => error.WriteLine(text);

    /// <summary>Writes an object for machines.</summary>
    public void Json<T>(T value) => output.WriteLine(JsonSerializer.Serialize(value, JsonText.Options));

    /// <summary>Whether somebody sits there to answer.</summary>
    public bool CanAsk => !Console.IsInputRedirected && _error.Profile.Out.IsTerminal;

    /// <summary>A line that a person types; may be empty.</summary>
    public string Typed() => _error.Prompt(new TextPrompt<string>(">").AllowEmpty()).Trim();

    /// <summary>Asks a person yes or no; <see langword="null"/> where nobody sits there to answer.</summary>
    public bool? Ask(string question, string yes, string no)
    {
        if (!CanAsk)
            return null;
        return _error.Prompt(new SelectionPrompt<string>().Title(Markup.Escape(question)).AddChoices(yes, no)) == yes;
    }

    /// <summary>Writes a table with a header line, columns as wide as they must be.</summary>
    public void Table(string[] header, IEnumerable<string[]> rows)
    {
        string[][] lines = [header, .. rows];
        int[] widths = [.. header.Select((_, i) => lines.Max(line => line[i].Length))];
        foreach (string[] row in lines)
            Line("  " + string.Join("  ", row.Select((cell, i) => i == 0 ? cell.PadRight(widths[i]) : cell.PadLeft(widths[i]))).TrimEnd());
    }

    /// <summary>Takes a result that is too long to be held, as a table of predictions.</summary>
    public TextWriter Output => output;

    /// <summary>Runs work of one kind that only says how far it is.</summary>
    public T Working<T>(string what, bool silent, Func<Action<string, int, int>, T> work) =>
        WithProgress(silent ? ProgressStyle.Silent : ProgressStyle.ForPeople, observer =>
    {
        observer.StageStarted(what);
        T result = work((step, done, of) => observer.StageProgressed(what, step, done, of));
        observer.StageFinished(what, "done");
        return result;
    });

    /// <summary>Runs work with progress on standard error.</summary>
    public T WithProgress<T>(ProgressStyle style, Func<IRunObserver, T> work)
    {
        if (style == ProgressStyle.ForPeople && _error.Profile.Out.IsTerminal)
        {
            return _error.Progress()
                .AutoClear(false)
                .Columns(new TaskDescriptionColumn { Alignment = Justify.Left }, new ProgressBarColumn(), new PercentageColumn(),
                    new ElapsedTimeColumn())
                .Start(context => work(new BarObserver(context)));
        }

        return work(style switch
        {
            ProgressStyle.Silent => new SilentObserver(),
            ProgressStyle.JsonLines => new JsonObserver(this),
            _ => new LineObserver(this),
        });
    }
}

/// <summary>How progress is told.</summary>
internal enum ProgressStyle
{
    /// <summary>Bars where a person watches, one line a stage in a log.</summary>
    ForPeople,

    /// <summary>One JSON object a line, for a log collector.</summary>
    JsonLines,

    /// <summary>Not at all.</summary>
    Silent,
}
