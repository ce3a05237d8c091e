namespace DecayAtlas.Contributions.Understanding;

/// <summary>What is asked and told while a table is gone through: takes the answers that are there, and keeps what is open.</summary>
internal sealed class Interview(IReadOnlyDictionary<string, string> answers, Phrases words)
{
    private readonly List<(int Order, Question Question)> _open = [];
    private readonly List<Told> _told = [];

    /// <summary>What blocks the rest comes first.</summary>
    public const int Layout = 0, Columns = 1, Values = 2, Meaning = 3, Last = 4;

    public Phrases Words => words;

    public IReadOnlyList<Told> Told => _told;

    public IReadOnlyList<Question> Open => [.. _open.OrderBy(entry => entry.Order).Select(entry => entry.Question)];

    public string? AnswerTo(string id) => answers.TryGetValue(id, out string? answer) && answer.Trim().Length > 0 ? answer.Trim() : null;

    public bool IsOpen(string id) => _open.Exists(entry => entry.Question.Id == id);

    /// <summary>One of several; null while it is not answered.</summary>
    /// <param name="id">Its kind, and after a colon what it is about.</param>
    public string? Choose(int order, string id, IReadOnlyList<Choice> choices, string? suggested, IReadOnlyList<SeenCell> seen,
        params object?[] about)
    {
        if (AnswerTo(id) is { } answer && choices.Any(choice => choice.Value == answer))
            return answer;
        Open_(order, id, QuestionKind.Choice, choices, suggested, seen, about);
        return null;
    }

    /// <summary>A text, number or day; null while it is not answered, or while the answer is none that can be.</summary>
    public string? Enter(int order, string id, QuestionKind kind, Func<string, bool> canBe, string? suggested,
        IReadOnlyList<SeenCell> seen, params object?[] about)
    {
        if (AnswerTo(id) is { } typed && (kind == QuestionKind.Number ? WithPoint(typed) : typed) is { } answer && canBe(answer))
            return answer;
        Open_(order, id, kind, [], suggested, seen, about);
        return null;
    }

    // a number is typed as the sheet writes it: with either decimal sign; 1,500 may be a thousand and a half in English
    private string WithPoint(string number) => number.IndexOf(',', StringComparison.Ordinal) is > 0 and var at
        && at == number.LastIndexOf(',') && !number.Contains('.', StringComparison.Ordinal)
        && !(words.Code.StartsWith("en", StringComparison.Ordinal) && number.Length - at == 4) ? number.Replace(',', '.') : number;

    /// <summary>Opens a question in other words than those of its kind, before it is asked in the usual ones.</summary>
    /// <param name="key">Names these words.</param>
    public void OpenAs(string key, int order, string id, QuestionKind kind, IReadOnlyList<Choice> choices, string? suggested,
        IReadOnlyList<SeenCell> seen, params object?[] about) => Open_(order, id, kind, choices, suggested, seen, about, key);

    public void Tell(string code, int count, IReadOnlyList<SeenCell> seen, params object?[] about)
    {
        if (count > 0)
            _told.Add(new Told(code, words.Say("ask.told." + code, [count, .. about]), count, [.. seen.Select(cell => cell.In(words))]));
    }

    public void Tell(IEnumerable<Told> told) => _told.AddRange(told);

    public void Pass(IEnumerable<Question> questions) =>
        _open.AddRange(questions.Where(question => AnswerTo(question.Id) is null).Select(question => (Layout, question)));

    /// <summary>A choice in the words of the language.</summary>
    public Choice Option(string value, string key, params object?[] about) => new(value, words.Say("ask.choice." + key, about));

    private void Open_(int order, string id, QuestionKind kind, IReadOnlyList<Choice> choices, string? suggested,
        IReadOnlyList<SeenCell> seen, object?[] about, string? key = null)
    {
        if (IsOpen(id))
            return;
        string what = key ?? id.Split(':')[0];
        string? why = words.FindText($"ask.{what}.why") is null ? null : words.Say($"ask.{what}.why", about);
        _open.Add((order, new Question(id, kind, words.Say($"ask.{what}", about), why, choices, suggested,
            [.. seen.Take(MostSeen).Select(cell => cell.In(words))])));
    }

    private const int MostSeen = 12;
}
