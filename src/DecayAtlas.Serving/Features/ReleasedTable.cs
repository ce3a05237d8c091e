using System.Text.Json.Nodes;

namespace DecayAtlas.Serving.Features;

/// <summary>A table of a release with the columns that the release itself says it has, so that one which an earlier version published is
/// served as it is.</summary>
internal sealed class ReleasedTable<TRow>
    where TRow : class
{
    private readonly Table<TRow> _table;
    private readonly ParquetColumns _columns;
    private readonly ColumnInfo[] _infos;

    /// <exception cref="AtlasException">The descriptor does not tell of the table, or tells of a file that is not there.</exception>
    public ReleasedTable(ReleaseReader release, string folder, JsonNode descriptor, Table<TRow> table)
    {
        string name = table.Name;
        JsonNode? told = descriptor["resources"]?.AsArray().FirstOrDefault(r => (string?)r?["name"] == name);
        // fewer files would read as a smaller table
        IEnumerable<string?> files = told?["path"] is JsonArray paths ? paths.Select(p => (string?)p) : [];
        if (files.FirstOrDefault(f => f is not null && !File.Exists(Path.Combine(folder, f))) is { } missing)
            throw new AtlasException($"Release {release.ReleaseId} has no file {missing} any more; bring it back, or publish again.");
        _infos = told?["schema"]?["fields"] is JsonArray fields
            ? [.. fields.Select(f =>
                new ColumnInfo((string)f!["name"]!, (string)f["type"]!, (string?)f["unit"], (string?)f["description"] ?? ""))]
            : throw new AtlasException($"Release {release.ReleaseId} does not tell of a table {name} in its datapackage.json; check "
            + "the release with: decayatlas verify FILE.");
        (_table, _columns) = (table, release.Columns(name));
    }

    /// <summary>What the release says of the column that a property of the row declares; <see langword="null"/> where it has
    /// none.</summary>
    public ColumnInfo? InfoOf(string property) => _infos.FirstOrDefault(i => i.Name == _table.NameOf(property));

    /// <summary>The values of the column that a property of the row declares.</summary>
    public string?[] Text(string property) => _columns.Text(_table.NameOf(property));

    public double[] Number(string property) => Numbers(_table.NameOf(property));

    public DateOnly?[] Date(string property) => _columns.Date(_table.NameOf(property));

    private double[] Numbers(string column) => [.. _columns.Number(column).Select(v => v ?? double.NaN)];

    /// <summary>The columns as properties, their rows in another order; what is no property, as a geometry, is left out.</summary>
    public IEnumerable<FeatureColumn> Columns(int[] order, IReadOnlyList<PropertyFilter> filters)
    {
        foreach (ColumnInfo info in _infos.Where(i => i.Name != "geometry"))
        {
            yield return info.Type switch
            {
                "string" => TextColumn(info, Ordered(_columns.Text(info.Name)), filters.Any(f => f.Property == info.Name)),
                "number" => new NumberColumn(info, Ordered(Numbers(info.Name))),
                "integer" => ValueColumn.OfWholeNumbers(info, Ordered(_columns.WholeNumber(info.Name))),
                "boolean" => ValueColumn.OfYesNo(info, Ordered(_columns.YesNo(info.Name))),
                "date" => ValueColumn.OfDates(info, Ordered(_columns.Date(info.Name))),
                _ => throw new AtlasException($"Column {info.Name} is of type {info.Type}, which this version does not know; use the "
                    + "version that published the release, or a later one."),
            };
        }

        T[] Ordered<T>(T[] values) => ServedRows.Ordered(values, order);
    }

    private static FeatureColumn TextColumn(ColumnInfo info, string?[] values, bool isFilter) =>
        isFilter || values.Distinct().Take((values.Length / 4) + 2).Count() <= values.Length / 4
            ? new CodedTextColumn(info, values) : new PlainTextColumn(info, values);
}

/// <summary>Rows in the order in which they are served.</summary>
internal static class ServedRows
{
    public static T[] Ordered<T>(T[] values, int[] order) => Array.ConvertAll(order, i => values[i]);
}
