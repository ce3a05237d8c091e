using System.Text.RegularExpressions;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Reporting;

/// <summary>Turns what was thrown into one sentence and an exit code.</summary>
internal static partial class Failure
{
    /// <param name="meant">What the person may have meant, to be said after a mistake on the command line.</param>
    public static int Report(Exception failure, Screen screen, bool isJson, string meant = "")
    {
        RunRecord? record = null;
        string? ofRun = null;
        if (failure is FailedRunException failed)
        {
            (record, ofRun) = (failed.Record, failed.Message);
            if (record is not null)
                RunReport.WriteQuarantined(record, screen.ErrorLine);
            failure = failed.InnerException!;
        }

        // work on several threads wraps what one of them threw
        if (failure is AggregateException { InnerExceptions.Count: > 0 } many)
            failure = many.Flatten().InnerExceptions[0];

        string stands = record?.StandsSentence() ?? "What was current before still is.";
        (int code, string sentence) = failure switch
        {
            CommandAppException e => (RecordedRun.Usage, $"{Sentence(InPlainWords(e.Message))}{meant} See decayatlas --help."),
            ConfigurationException or YamlDocumentException => (RecordedRun.Usage, Sentence(failure.Message)),
            AtlasBusyException or ListeningException or GridException or ContributionException or LostContributionsException
                or StorageException or PredictionException or PagesException or DemoException =>
                (RecordedRun.Failed, Sentence(failure.Message)),
            IOException or UnauthorizedAccessException =>
                (RecordedRun.Failed, ofRun is not null ? Sentence(ofRun)
                    : $"A file could not be read or written: {Sentence(failure.Message)}"),
            OutOfMemoryException => (RecordedRun.Failed, $"Memory ran out. {stands}"),
            // Anything else is our mistake; its kind and place help to mend it, a stack trace on the screen helps nobody.
            // What a run says is for everybody, so that there the words of the runtime are left out: they may quote what was received.
            _ => (RecordedRun.Failed, $"{ofRun ?? Mistake(failure)} {stands} Please report it with the command you ran."),
        };
        if (isJson)
            screen.Json(new { failure = sentence, exit_code = code, run = record });
        screen.ErrorLine(sentence);
        return code;
    }

    private static string Mistake(Exception failure) =>
        $"DecayAtlas made a mistake ({OurMistake.Of(failure)}: {Sentence(failure.Message)})";

    /// <summary>The command library names types of the programming language; people get words.</summary>
    private static string InPlainWords(string message) => NotConverted().Match(message) is { Success: true } match
        ? $"An option has the value '{match.Groups[1].Value}', expected "
        + $"{match.Groups[2].Value switch
        {
            "Int32" or "Int64" => "a whole number",
            "Double" => "a number",
            _ => "a number as --help of the command says",
        }}."
        : message;

    [GeneratedRegex(@"^Failed to convert '(.*)' to (Int32|Int64|Double|Nullable`1)\.?$",
        RegexOptions.Singleline | RegexOptions.NonBacktracking)]
    private static partial Regex NotConverted();

    private static string Sentence(string message)
    {
        string line = ReceivedText.Masked(message.ReplaceLineEndings(" ").Trim());
        return line.EndsWith('.') || line.EndsWith('?') ? line : line + ".";
    }
}
