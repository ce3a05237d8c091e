using System.Globalization;

namespace DecayAtlas.Contributions.Understanding;

/// <summary>A column of the table that is asked about: what its name says, and what its values are.</summary>
internal sealed class AskedColumn
{
    private AskedColumn(int ordinal, TidyColumn header, IReadOnlyList<TidyCell> cells)
    {
        (Ordinal, Header, Cells) = (ordinal, header, cells);
        Sense = HeaderWords.Read(header.Name, header.Unit).Of(header.Part);
        int dates = 0, numbers = 0, filled = 0, hidden = 0;
        List<string> distinct = [];
        HashSet<string> seen = [];
        foreach (TidyCell cell in cells)
        {
            string text = TextOf(cell);
            if (text.Length == 0)
                continue;
            filled++;
            hidden += cell.Look is { IsHidden: true } ? 1 : 0;
            if (seen.Count < MostDistinct && seen.Add(text))
                distinct.Add(text);
            if (cell.Value.Kind == SheetCellKind.Date || (cell.Value.Kind == SheetCellKind.Text && IsDay(text)) || IsSerial(text)
                || (Sense.Has(Concept.DayOfYear) && DayReading.IsDayOfYear(text)))
            {
                dates++;
            }
            else if (cell.Value.Kind == SheetCellKind.Number || (cell.Value.Kind == SheetCellKind.Text
                && ((WrittenNumber.Of(text) is { } written && !written.Beside.Any(char.IsAsciiDigit)) || IsCorrected(text))))
            {
                numbers++;
            }
        }
        (Filled, Distinct, IsHidden) = (filled, distinct, filled > 0 && hidden == filled);
        int telling = filled - distinct.Where(StateWords.IsNoValue).Sum(word => cells.Count(cell => TextOf(cell) == word));
        IsDates = dates > 0 && dates * 2 > telling;
        IsNumbers = numbers > 0 && numbers * 2 > telling && !IsDates;
    }

    /// <summary>Values that stand beside the table, one for each of its rows.</summary>
    public static AskedColumn OfLines(string name, IReadOnlyList<TidyCell> cells) =>
        new(-1, new TidyColumn(name, null, cells[0].Place), cells);

    /// <summary>The column with other cells in some of its rows.</summary>
    public AskedColumn With(IReadOnlyList<TidyCell> cells) => new(Ordinal, Header, cells);

    public const int MostDistinct = 400;

    public int Ordinal { get; }

    public TidyColumn Header { get; }

    public string Name => Header.Name;

    public HeaderSense Sense { get; }

    public IReadOnlyList<TidyCell> Cells { get; }

    public int Filled { get; }

    /// <summary>Different texts in the order of their first appearance, up to <see cref="MostDistinct"/>.</summary>
    public IReadOnlyList<string> Distinct { get; }

    public bool IsDates { get; }

    public bool IsNumbers { get; }

    public bool IsWords => Filled > 0 && !IsDates && !IsNumbers;

    /// <summary>All its values are hidden from the eye.</summary>
    public bool IsHidden { get; }

    /// <param name="areBags">What stands before ± is the mass of one bag, and no mean.</param>
    public static IReadOnlyList<AskedColumn> Of(TidyTable table, IReadOnlyList<IReadOnlyList<TidyCell>> rows, bool areBags = false) =>
        [.. table.Columns.Select((column, i) => new AskedColumn(i, areBags && column.Part == CellPart.Mean
            ? column with { Part = CellPart.Whole } : column, [.. rows.Select(row => row[i])]))];

    public string TextAt(int row) => TextOf(Cells[row]);

    /// <summary>What stands in a row, as it is said in a sentence.</summary>
    public string Spoken(int row, Phrases words) => Cells[row].Value.Kind switch
    {
        SheetCellKind.Number => words.Written(TextAt(row)),
        SheetCellKind.Date => SeenCell.OfSheet(TextAt(row), words),
        _ => TextAt(row),
    };

    public static string TextOf(TidyCell cell) =>
        cell.Value.Text.Length > FieldSchema.LongestOfAll ? "" : cell.Value.Text.Trim();

    /// <summary>The cells of some rows as they are shown beside a question, each text once.</summary>
    public IReadOnlyList<SeenCell> Seen(Func<int, bool>? where = null)
    {
        HashSet<string> shown = [];
        return [.. Enumerable.Range(0, Cells.Count).Where(i => TextAt(i).Length > 0 && (where is null || where(i)) && shown.Add(TextAt(i)))
            .Take(8).Select(SeenAt)];
    }

    public SeenCell SeenAt(int row) => Shown(Cells[row], Name);

    public static SeenCell Shown(TidyCell cell, string? column) => new(
        cell.Place.Sheet, cell.Place.Row, column, cell.Place.Sheet is null ? null : CellReference.Of(cell.Place.Column, cell.Place.Row),
        ReceivedText.OneLine(ReceivedText.Masked(cell.Value.Text.Trim(), 80)))
    { IsNumber = cell.Value.Kind == SheetCellKind.Number, IsDay = cell.Value.Kind == SheetCellKind.Date };

    public double? TypedNumber(int row) => Cells[row].Value.Kind == SheetCellKind.Number
        && double.TryParse(Cells[row].Value.Text, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) ? number : null;

    // the day number of a spreadsheet, under a name that speaks of days
    private bool IsSerial(string text) => text.Length == 5 && text.All(char.IsAsciiDigit) && text[0] is '3' or '4' or '5'
        && Sense.HasAny(Concept.Burying, Concept.Retrieving, Concept.Date, Concept.Burial);

    // two numbers under a name that speaks of masses: one of the two is the mass
    private bool IsCorrected(string text) => !Sense.HasAny(Concept.Date, Concept.Burying, Concept.Retrieving, Concept.Notes)
        && Sense.HasAny(Concept.Mass, Concept.First, Concept.Last, Concept.Loss, Concept.Remaining)
        && WrittenNumber.SeveralIn(text).Count == 2;

    private static bool IsDay(string text) => MonthNames.Read(text) is { } day
        // 1.31 and 12.5 are numbers, 12.5. and 12/5 may be days
        && (day.Year is not null || day.IsNamed || text.EndsWith('.') || text.Contains('/', StringComparison.Ordinal));
}
