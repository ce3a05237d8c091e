using System.ComponentModel;
using System.Globalization;
using System.Text;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Contributing;

/// <summary>Asks about a table what only its sender knows, and writes the mapping by which it is read.</summary>
internal sealed class MapColumnsCommand(Screen screen) : PlainCommand<MapColumnsCommand.Settings>
{
    private const int LastHeaderRow = 1000;

    private static readonly string[] Separators = ["comma", "semicolon", "tab", "bar"];

    internal sealed class Settings : CommandSettings
    {
        [CommandArgument(0, "<FILE>")]
        [Description("A table as you have it: .xlsx, .xls, .ods, .csv, .tsv, .txt.")]
        public required string File { get; init; }

        [CommandOption("--campaign <FILE>")]
        [Description("The campaign file of your curator: what it says is not asked.")]
        public string? Campaign { get; init; }

        [CommandOption("--language <CODE>")]
        [Description("The language of the questions, as de; en unless stated.")]
        [DefaultValue("en")]
        public required string Language { get; init; }

        [CommandOption("--sheet <NAME>")]
        [Description("The sheet to read, where it is not found by itself.")]
        public string? Sheet { get; init; }

        [CommandOption("--separator <SIGN>")]
        [Description("comma, semicolon, tab or bar, where the program guesses wrong.")]
        public string? Separator { get; init; }

        [CommandOption("--header-row <NUMBER>")]
        [Description("The row with the names of the columns, where the program guesses wrong.")]
        public int? HeaderRow { get; init; }

        [CommandOption("--answer <ID=VALUE>")]
        [Description("The answer to a question, by its id; may be given several times.")]
        public string[] Answers { get; init; } = [];

        [CommandOption("--revision <NUMBER>")]
        [Description("2, 3, ... for what mends something that you sent before; a mapping that is there keeps its decisions.")]
        public int? Revision { get; init; }

        [CommandOption("--output <FILE>")]
        [Description("Where the mapping is written; NAME.mapping.yaml beside the table unless stated.")]
        public string? Output { get; init; }

        [CommandOption("--replace")]
        [Description("Write over a mapping that is there.")]
        public bool Replace { get; init; }

        [CommandOption("--json")]
        [Description("Print what was told and what is asked as JSON, and nothing else.")]
        public bool Json { get; init; }
    }

    protected override int Execute(Settings settings)
    {
        Phrases words = SpokenLanguage.Of(settings.Language);
        SpokenLanguage.RequireFile(words, "option.no-table", settings.File);
        SpokenLanguage.RequireWithin(words, "--revision", settings.Revision, 1, ContributionHeader.HighestRevision);
        SpokenLanguage.RequireWithin(words, "--header-row", settings.HeaderRow, 1, LastHeaderRow);
        if (settings.Campaign is { } named)
            SpokenLanguage.RequireFile(words, "option.no-campaign", named);
        Campaign? campaign = settings.Campaign is { } file ? CampaignReader.Read(file) : null;
        Dictionary<string, string> answers = AnswersOf(settings.Answers, words);
        if (settings.Revision is { } stated)
            answers["revision"] = stated.ToString(CultureInfo.InvariantCulture);
        TableWishes wishes = new(settings.Sheet, SeparatorOf(settings.Separator, words), settings.HeaderRow);
        string output = settings.Output ?? Path.ChangeExtension(settings.File, null) + ".mapping.yaml";
        if (File.Exists(output) && !settings.Replace)
        {
            if (settings.Revision is { } raised)
                return Revise(settings, output, raised, words);
            throw new ConfigurationException(words.Say("option.mapping-there", output));
        }
        DateOnly today = DateOnly.FromDateTime(DateTime.UtcNow);
        Inquiry inquiry = Ask();
        TellUnknown(answers, inquiry, words);
        if (!settings.Json && inquiry.Mapping is null && screen.CanAsk)
            inquiry = QuestionPrompt.Through(screen, words, answers, Ask);
        if (settings.Json)
        {
            screen.Json(new
            {
                told = inquiry.Told,
                questions = inquiry.Questions,
                findings = inquiry.Findings,
                answers,
                mapping = inquiry.Mapping,
            });
        }
        if (inquiry.Mapping is not { } mapping)
        {
            if (!settings.Json)
                ShowOpen(inquiry, settings.File, words);
            return RecordedRun.NeedsPerson;
        }
        File.WriteAllText(output, mapping, new UTF8Encoding(false));
        if (settings.Json)
            return RecordedRun.Done;
        if (!screen.CanAsk)
            screen.Lines(inquiry.Told.Select(told => told.Text));
        screen.Line(words.Say("ask.written", output, settings.File));
        screen.Line($"{settings.File}: {CheckTelling.Of(new CheckReport(Path.GetFileName(settings.File),
            ContributionReader.Read(settings.File, IntakeLimits.Default, output), today), words).First}");
        return RecordedRun.Done;

        Inquiry Ask() =>
            FindingWords.Said(SheetInquiry.Of(settings.File, campaign, answers, words, IntakeLimits.Default, today, wishes), words);
    }

    // what was decided stays; only the number of the version is another
    private int Revise(Settings settings, string output, int revision, Phrases words)
    {
        string mapping = RevisedMapping.Of(output, File.ReadAllText(output), revision);
        File.WriteAllText(output, mapping, new UTF8Encoding(false));
        if (settings.Json)
            screen.Json(new { revision, mapping });
        else
            screen.Line(words.Say("ask.revised", output, settings.File, revision.ToString(CultureInfo.InvariantCulture)));
        return RecordedRun.Done;
    }

    private static Dictionary<string, string> AnswersOf(string[] stated, Phrases words)
    {
        Dictionary<string, string> answers = [];
        foreach (string answer in stated)
        {
            int at = answer.IndexOf('=', StringComparison.Ordinal);
            if (at < 1 || at == answer.Length - 1)
                throw new ConfigurationException(words.Say("option.answer-form", answer));
            answers[answer[..at].Trim()] = answer[(at + 1)..].Trim();
        }
        return answers;
    }

    private static char? SeparatorOf(string? stated, Phrases words) => stated switch
    {
        null => null,
        "comma" or "," => ',',
        "semicolon" or ";" => ';',
        "tab" => '\t',
        "bar" or "|" => '|',
        _ => throw SpokenLanguage.Refused(words, "--separator", stated, Separators),
    };

    // an answer that is none of the choices would be asked for ever, and one to nothing would be lost
    private static void TellUnknown(Dictionary<string, string> answers, Inquiry inquiry, Phrases words)
    {
        // the revision is an option of its own
        foreach (string id in answers.Keys.Where(id => id != "revision"))
        {
            string kind = id.Split(':')[0], key = kind.StartsWith("layout.", StringComparison.Ordinal) ? "layout.ask." + kind[7..]
                : "ask." + kind;
            if (words.FindText(key) is null)
            {
                string given = $"{id}={answers[id]}";
                throw new ConfigurationException(Nearest.Of(id, inquiry.Questions.Select(question => question.Id)) is { } near
                    ? words.Say("option.answer-nothing.near", given, near) : words.Say("option.answer-nothing", given));
            }
        }
        foreach (Question question in inquiry.Questions)
        {
            if (answers.TryGetValue(question.Id, out string? answer))
            {
                string given = $"{question.Id}={answer}";
                throw question.Kind switch
                {
                    QuestionKind.Choice =>
                        SpokenLanguage.Refused(words, "--answer", given, question.Choices.Select(choice => choice.Value)),
                    QuestionKind.Day => new ConfigurationException(words.Say("option.answer-day", given)),
                    QuestionKind.Number => new ConfigurationException(words.Say("option.answer-number", given)),
                    _ => new ConfigurationException(words.Say("option.answer-text", given)),
                };
            }
        }
    }

    private void ShowOpen(Inquiry inquiry, string file, Phrases words)
    {
        screen.Lines(inquiry.Findings.Select(finding => FindingWords.Sentence(finding, words)));
        screen.Lines(inquiry.Told.Select(told => "- " + told.Text));
        foreach (Question question in inquiry.Questions)
        {
            screen.Line($"{question.Id}: {question.Text}");
            if (question.Why is { } why)
                screen.Line("    " + why);
            if (question.Seen.Count > 0)
                screen.Line("    " + string.Join("; ", question.Seen.Take(6).Select(QuestionPrompt.Shown)));
            foreach (Choice choice in question.Choices)
                screen.Line($"    {choice.Value}{(choice.Value == question.Suggested ? " *" : "")}: {choice.Text}");
        }
        if (inquiry.Questions.Count > 0)
            screen.Line(words.Say("ask.how", inquiry.Questions.Count, file, inquiry.Questions[0].Id));
    }
}
