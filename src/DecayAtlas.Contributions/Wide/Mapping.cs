namespace DecayAtlas.Contributions.Wide;

/// <param name="HeaderRow">1-based row of the names of the columns.</param>
/// <param name="Encoding">Null when nothing was stated.</param>
/// <param name="AsFound">What was said of the layout where the table is laid out by the rules of <see cref="TableLayout"/>; null where it
/// is read as it stands.</param>
internal sealed record WideForm(
    string? Sheet, int HeaderRow, string? Encoding, char Separator, bool IsDecimalComma, DateOrder DateOrder,
    IReadOnlySet<string> EmptyWords, LayoutWishes? AsFound = null)
{
    /// <summary>Columns of running numbers, made for ids.</summary>
    public IReadOnlyList<CountedColumn> Counted { get; init; } = [];

    /// <summary>Rows that are no part of the contribution, as 12 or Weighings!B12.</summary>
    public IReadOnlySet<string> LeaveOutRows { get; init; } = new HashSet<string>();
}

/// <summary>Numbers 1, 2, 3, ... the rows that agree in all of <paramref name="Within"/>, in their order.</summary>
internal sealed record CountedColumn(string Name, IReadOnlyList<string> Within);

/// <summary>How the text of a cell becomes a value, where it is not simply one.</summary>
internal enum SourceForm
{
    Plain,
    Degrees,

    /// <summary>An id is made of a name.</summary>
    Id,

    /// <summary>Only the listed words count; any other text is nothing.</summary>
    Listed,

    /// <summary>What stands beside a number in its cell.</summary>
    Beside,

    /// <summary>The note that hangs on the cell.</summary>
    Comment,

    /// <summary>The colour of the cell, RRGGBB.</summary>
    Fill,

    /// <summary>A mass that was lost, in grams or as a share, from the first mass of the row.</summary>
    Loss,

    /// <summary>As <see cref="Loss"/>, with a minus before what was lost.</summary>
    Change,

    /// <summary>The share of the first mass of the row that is left.</summary>
    Remaining,

    /// <summary>A mass that becomes its share of the dry litter of the last weighing, or of another mass.</summary>
    MassShare,
}

/// <summary>There is nothing where one of these columns holds one of these words, or has one of these colours.</summary>
internal sealed record UnlessWords(IReadOnlyList<string> Columns, bool AreColours, IReadOnlyList<string> Words);

/// <summary>Where the values of one field come from: a column, a fixed value, or a pattern with columns in it.</summary>
/// <param name="Unit">Unit of the column; null for the unit of the field.</param>
/// <param name="DateOrder">Overrules that of the file when stated.</param>
/// <param name="Words">Words of the file, each with the word of the schema.</param>
/// <param name="Place">JSON Pointer into the mapping.</param>
/// <param name="IsOwn">In a row of a burial: stated for this bag alone, not for both.</param>
internal sealed record FieldSource(
    FieldSchema Field, string? Column, string? Value, string? Pattern, string? Unit, DateOrder DateOrder,
    IReadOnlyDictionary<string, string> Words, string Place, bool IsOwn)
{
    public SourceForm Form { get; init; }

    /// <summary>Words of single rows, by the names of rows.</summary>
    public IReadOnlyDictionary<string, IReadOnlyDictionary<string, string>> RowWords { get; init; } =
        new Dictionary<string, IReadOnlyDictionary<string, string>>();

    /// <summary>A mass that is taken off: that of the empty bag.</summary>
    public FieldSource? Less { get; init; }

    /// <summary>The mass that a share is made of; null for the dry litter that was dug up.</summary>
    public FieldSource? Of { get; init; }

    /// <summary>Overrules that of the file when stated; '\0' where cells with a point and cells with a comma stand together.</summary>
    public char? DecimalSign { get; init; }

    /// <summary>The sign between thousands; '\0' for none.</summary>
    public char Thousands { get; init; }

    /// <summary>Cells may state a unit of their own, and have words beside the number.</summary>
    public bool IsWritten { get; init; }

    /// <summary>The year of dates that have none.</summary>
    public int? Year { get; init; }

    /// <summary>Years of two digits are of this century, as 2000.</summary>
    public int? Century { get; init; }

    /// <summary>A share is of all that was weighed, not of the litter without its bag.</summary>
    public bool IsShareOfAll { get; init; }

    /// <summary>Where there is nothing.</summary>
    public UnlessWords? Unless { get; init; }

    /// <summary>Where to look when this gives nothing; texts of notes are joined.</summary>
    public IReadOnlyList<FieldSource> Or { get; init; } = [];

    /// <summary>It and all that are looked at in its place, or taken off.</summary>
    public IEnumerable<FieldSource> WithOthers => Or.Concat(new[] { Less, Of }.OfType<FieldSource>())
        .SelectMany(other => other.WithOthers).Prepend(this);

    public bool IsShare => Form is SourceForm.Loss or SourceForm.Remaining or SourceForm.Change;
}

/// <summary>The sources of one table; seen from a row of a burial, those of its fast or its slow bag.</summary>
internal sealed record TableSources(TableSchema Schema, IReadOnlyList<FieldSource> Sources);

internal sealed record StatedLot(IReadOnlyDictionary<string, string> Values, string Place);

/// <summary>A mapping that was read and found complete.</summary>
/// <param name="Tables">By table; a burial's row gives its bags, lots and samples twice, once for each role.</param>
internal sealed record Mapping(
    string File, WideForm Form, IReadOnlyList<TableSources> Tables, IReadOnlyList<StatedLot> Lots,
    IReadOnlyDictionary<string, string> Package,
    IReadOnlyList<string> LeaveOut, YamlDocument Document)
{
    /// <summary>What the campaign said of days when the mapping was made; null where nothing was.</summary>
    public ExpectedDays? Expected { get; init; }

    public bool Has(TableSchema schema) =>
        Tables.Any(table => table.Schema == schema) || (schema == SchemaCatalogue.Lots && Lots.Count > 0);

    /// <summary>Words that are listed as saying nothing of a field.</summary>
    public IReadOnlySet<string> WordsWithoutMeaning(string field) => Tables.SelectMany(table => table.Sources)
        .Where(source => source.Field.Name == field).SelectMany(source => source.WithOthers)
        .SelectMany(source => source.Words).Where(word => word.Value.Length == 0).Select(word => word.Key).ToHashSet();

    /// <summary>Texts of cells that mean something for a field of a bag, in all rows or in some; what is noted is not read.</summary>
    public IReadOnlySet<string> WordsWithMeaning() => Tables.SelectMany(table => table.Sources)
        .Where(source => source.Field.Name != "notes").SelectMany(source => source.WithOthers)
        .SelectMany(source => source.Words.Where(word => word.Value.Length > 0).Select(word => word.Key)
            .Concat(source.RowWords.Values.SelectMany(words => words.Keys))).ToHashSet();

    public int LineOf(string place) => (int)Document.LineOf(place);

    /// <summary>A lot that is written out here, on its way into the table of lots.</summary>
    public HeldCells CellsOf(StatedLot lot)
    {
        IReadOnlyList<FieldSchema> fields = SchemaCatalogue.Lots.Fields;
        int line = LineOf(lot.Place);
        return new HeldCells(line, [.. fields.Select(field => (lot.Values.GetValueOrDefault(field.Name, ""), (Finding?)null))],
            (fault, column) => fault with
            {
                File = File,
                Row = column < 0 ? line : LineOf($"{lot.Place}/{fields[column].Name}"),
                Column = fault.Column is { } name ? "lots." + name : null,
            });
    }
}
