namespace DecayAtlas.Contributions.Wide;

/// <param name="HeaderRow">1-based row of the names of the columns.</param>
/// <param name="Encoding">Null when nothing was stated.</param>
/// <param name="AsFound">What was said of the layout where the table is laid out by the rules of <see cref="TableLayout"/>; null where it
/// is read as it stands.</param>
internal sealed record WideForm(
    string? Sheet, int HeaderRow, string? Encoding, char Separator, bool IsDecimalComma, DateOrder DateOrder,
    IReadOnlySet<string> EmptyWords, LayoutWishes? AsFound = null);

/// <summary>Where the values of one field come from: a column, a fixed value, or a pattern with columns in it.</summary>
/// <param name="Unit">Unit of the column; null for the unit of the field.</param>
/// <param name="DateOrder">Overrules that of the file when stated.</param>
/// <param name="Words">Words of the file, each with the word of the schema.</param>
/// <param name="Place">JSON Pointer into the mapping.</param>
/// <param name="IsOwn">In a row of a burial: stated for this bag alone, not for both.</param>
internal sealed record FieldSource(
    FieldSchema Field, string? Column, string? Value, string? Pattern, string? Unit, DateOrder DateOrder, bool IsDegrees,
    IReadOnlyDictionary<string, string> Words, string Place, bool IsOwn);

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
    public bool Has(TableSchema schema) =>
        Tables.Any(table => table.Schema == schema) || (schema == SchemaCatalogue.Lots && Lots.Count > 0);

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
