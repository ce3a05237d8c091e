namespace DecayAtlas.Contributions.Findings;

/// <summary>How a question is answered.</summary>
public enum QuestionKind
{
    /// <summary>One of <see cref="Question.Choices"/>.</summary>
    Choice,

    /// <summary>A short text, such as an id.</summary>
    Text,

    /// <summary>A number with a decimal point, in the unit that the question names.</summary>
    Number,

    /// <summary>A day, YYYY-MM-DD.</summary>
    Day,
}

/// <param name="Value">What is kept as the answer.</param>
public sealed record Choice(string Value, string Text);

/// <summary>A cell of the sender's own table, shown beside what is asked or told of it.</summary>
/// <param name="Sheet">Null where the file has no sheets.</param>
/// <param name="Row">1-based row or line.</param>
/// <param name="Column">The name of the column, or its letter where it has none; null for the row as a whole.</param>
/// <param name="Cell">As B7, where the file is a workbook.</param>
public sealed record SeenCell(string? Sheet, int Row, string? Column, string? Cell, string Text)
{
    /// <summary>Whether a spreadsheet holds a number there, and shows it with the decimal sign of its language.</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public bool IsNumber { get; init; }

    /// <summary>Whether a spreadsheet holds a day there, and shows it as its language writes days.</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public bool IsDay { get; init; }

    public SeenCell In(Phrases words) => IsNumber ? this with { Text = words.Written(Text) }
        : IsDay ? this with { Text = OfSheet(Text, words) } : this;

    /// <summary>A day of a spreadsheet, whatever stands behind it, as the language writes days.</summary>
    internal static string OfSheet(string day, Phrases words) => day.Length >= IsoLength && DateOnly.TryParseExact(day[..IsoLength],
        "yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture, System.Globalization.DateTimeStyles.None, out DateOnly read)
        ? words.ShortDay(read) + day[IsoLength..] : day;

    private const int IsoLength = 10;
}

/// <summary>One thing that only the sender can know, in plain words of a language.</summary>
/// <param name="Id">Stable for the same table: what is asked, and of which column or word. The key of its answer.</param>
/// <param name="Why">What hangs on it, in a sentence; null where the question says it.</param>
/// <param name="Suggested">The answer that the table makes likely, to be confirmed; never taken by itself.</param>
/// <param name="Seen">The sender's own values.</param>
public sealed record Question(
    string Id, QuestionKind Kind, string Text, string? Why, IReadOnlyList<Choice> Choices, string? Suggested,
    IReadOnlyList<SeenCell> Seen);

/// <summary>What was done or understood without asking, and is to be seen by the sender: rows left out, a hidden column read.</summary>
/// <param name="Code">Stable, kebab-case.</param>
/// <param name="Count">How many rows, columns or cells it is about.</param>
public sealed record Told(string Code, string Text, int Count, IReadOnlyList<SeenCell> Seen);
