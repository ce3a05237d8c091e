namespace DecayAtlas.Contributions.Layout.Blocks;

/// <summary>Collects what is to be told of a layout, and where it may be read in more than one way.</summary>
/// <param name="phrases">Null where nobody will read it.</param>
internal sealed class LayoutNotes(Phrases? phrases, LayoutWishes wishes)
{
    private const int MostSeen = 12;

    // A sheet that raises more is told what was taken, without being asked.
    private const int MostQuestions = 30;

    private readonly Dictionary<string, (int Count, List<SeenCell> Seen, List<string> Names)> _told = [];
    private readonly List<Question> _questions = [];

    public LayoutWishes Wishes => wishes;

    public IReadOnlyList<Question> Readings => _questions;

    /// <param name="code">The key of its text is <c>layout.</c> and the code; {0} is the count, {1} are the names.</param>
    public void Tell(string code, TidyCell? at, string? name = null, int count = 1)
    {
        if (!_told.TryGetValue(code, out (int Count, List<SeenCell> Seen, List<string> Names) told))
            told = (0, [], []);
        if (at is not null && told.Seen.Count < MostSeen)
            told.Seen.Add(InLanguage(at));
        if (name is not null && told.Names.Count < MostSeen && !told.Names.Contains(name))
            told.Names.Add(name);
        _told[code] = (told.Count + count, told.Seen, told.Names);
    }

    /// <summary>What stands in a cell, a number with the decimal sign of the language and a day as it writes days.</summary>
    public string? TextOf(TidyCell? cell) => phrases is null ? cell?.Value.Text.Trim() : cell?.Value.Kind switch
    {
        SheetCellKind.Number => phrases.Written(cell.Value.Text.Trim()),
        SheetCellKind.Date => SeenCell.OfSheet(cell.Value.Text.Trim(), phrases),
        _ => cell?.Value.Text.Trim(),
    };

    public void TellRow(string code, BlockRow row) => Tell(code, row.First);

    public IReadOnlyList<Told> All() =>
    [
        .. _told.Select(told => new Told("layout-" + told.Key,
            // what has no names has nothing in brackets
            phrases?.Say("layout." + told.Key, told.Value.Count, string.Join(", ", told.Value.Names))
                .Replace(" ()", "", StringComparison.Ordinal) ?? "", told.Value.Count, told.Value.Seen)),
    ];

    /// <summary>Asks which of the alternatives is meant, the first where nobody says, and gives the one that is taken.</summary>
    public string Ask(string id, string about, int count, IEnumerable<TidyCell?> seen, params ReadOnlySpan<string> alternatives)
    {
        string question = about.Length == 0 ? "layout." + id : $"layout.{id}:{about}";
        List<Choice> choices = [];
        foreach (string choice in alternatives)
            choices.Add(new Choice(choice, phrases?[$"layout.choice.{id}.{choice}"] ?? ""));
        if (_questions.Count < MostQuestions && !_questions.Exists(other => other.Id == question))
        {
            _questions.Add(new Question(question, QuestionKind.Choice, phrases?.Say("layout.ask." + id, count, about) ?? "",
                phrases?.FindText($"layout.ask.{id}.why"), choices, alternatives[0],
                [.. seen.OfType<TidyCell>().Take(MostSeen).Select(InLanguage)]));
        }
        return wishes.Choice(question, alternatives);
    }

    private SeenCell InLanguage(TidyCell cell) => phrases is null ? Seen(cell) : Seen(cell).In(phrases);

    public static SeenCell Seen(TidyCell cell) => new(cell.Place.Sheet, cell.Place.Row, CellReference.Letters(cell.Place.Column),
        cell.Place.Sheet is null ? null : CellReference.Of(cell.Place.Column, cell.Place.Row), Shown(cell))
    { IsNumber = cell.Value.Kind == SheetCellKind.Number, IsDay = cell.Value.Kind == SheetCellKind.Date };

    private static string Shown(TidyCell cell)
    {
        string text = ReceivedText.OneLine(cell.Value.Text, ' ');
        text = cell.Look?.Comment is { } comment ? $"{text} ({ReceivedText.OneLine(comment, ' ')})" : text;
        return HalfLetter.Replaced(text.Length > 200 ? text[..200] + "…" : text);
    }
}
