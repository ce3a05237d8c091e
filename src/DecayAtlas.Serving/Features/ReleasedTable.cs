using System.Text.Json.Nodes;

namespace DecayAtlas.Serving.Features;

/// <summary>
/// A table of a release with the columns that the release itself says it has, so that one which an earlier version published is
/// served as it is.
/// </summary>
internal sealed class ReleasedTable<TRow>
    where TRow : class
{
    private readonly Table<TRow> _table;
    private readonly ParquetColumns _columns;

    /// <exception cref="AtlasException">The descriptor does not tell of the table, or tells of a file that is not there.</exception>
    public ReleasedTable(ReleaseReader release, string folder, JsonNode descriptor, Table<TRow> table)
    {
        string name = table.Name;
        JsonNode? told = descriptor["resources"]?.AsArray().FirstOrDefault(r => (string?)r?["name"] == name);
        // fewer files would read as a smaller table
        if ((told?["path"] as JsonArray)?.Select(p => (string?)p)
            .FirstOrDefault(p => p is not null && !File.Exists(Path.Combine(folder, p))) is { } missing)
        {
            throw new AtlasException($"Release {release.ReleaseId} has no file {missing} any more; bring it back, or publish again.");
        }

        Infos = told?["schema"]?["fields"] is JsonArray fields
            ? [.. fields.Select(f =>
                new ColumnInfo((string)f!["name"]!, (string)f["type"]!, (string?)f["unit"], (string?)f["description"] ?? ""))]
            : throw new AtlasException($"Release {release.ReleaseId} does not tell of a table {name} in its datapackage.json; check "
            + "the release with: decayatlas verify FILE.");
        (_table, _columns) = (table, release.Columns(name));
    }

    public IReadOnlyList<ColumnInfo> Infos { get; }

    /// <summary>Whether the release has the column that a property of the row declares.</summary>
    public bool Has(string property) => Infos.Any(i => i.Name == _table.NameOf(property));

    /// <summary>What the release says of the column that a property of the row declares.</summary>
    public ColumnInfo InfoOf(string property) => Infos.First(i => i.Name == _table.NameOf(property));

    /// <summary>The values of the column that a property of the row declares.</summary>
    public string?[] Text(string property) => _columns.Text(_table.NameOf(property));

    public double[] Number(string property) => Numbers(_table.NameOf(property));

    public DateOnly?[] Date(string property) => _columns.Date(_table.NameOf(property));

    private double[] Numbers(string column) => [.. _columns.Number(column).Select(v => v ?? double.NaN)];

    /// <summary>The columns as properties, their rows in another order; what is no property, as a geometry, is left out.</summary>
    public IEnumerable<FeatureColumn> Columns(int[] order, IReadOnlyList<PropertyFilter> filters)
    {
        foreach (ColumnInfo info in Infos.Where(i => i.Name != "geometry"))
        {
            yield return info.Type switch
            {
                "string" =>
                    TextColumn(info, ServedRows.Ordered(_columns.Text(info.Name), order), filters.Any(f => f.Property == info.Name)),
                "number" => new NumberColumn(info, ServedRows.Ordered(Numbers(info.Name), order)),
                "integer" => ValueColumn.OfWholeNumbers(info, ServedRows.Ordered(_columns.WholeNumber(info.Name), order)),
                "boolean" => ValueColumn.OfYesNo(info, ServedRows.Ordered(_columns.YesNo(info.Name), order)),
                "date" => ValueColumn.OfDates(info, ServedRows.Ordered(_columns.Date(info.Name), order)),
                _ => throw new AtlasException($"Column {info.Name} is of type {info.Type}, which this version does not know; use the "
                    + "version that published the release, or a later one."),
            };
        }
    }

    private static FeatureColumn TextColumn(ColumnInfo info, string?[] values, bool isFilter) =>
        isFilter || values.Distinct(StringComparer.Ordinal).Take((values.Length / 4) + 2).Count() <= values.Length / 4
            ? new CodedTextColumn(info, values)
            : new PlainTextColumn(info, values);
}

/// <summary>Rows in the order in which they are served.</summary>
internal static class ServedRows
{
    public static T[] Ordered<T>(T[] values, int[] order) => Array.ConvertAll(order, i => values[i]);
}
