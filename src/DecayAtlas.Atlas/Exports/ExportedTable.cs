namespace DecayAtlas.Atlas.Exports;

/// <summary>One table of a release on its way to people.</summary>
internal sealed record ExportedTable(Table Table, IReadOnlyList<string> Files, int Rows)
{
    public string Name => Table.Name;

    public IReadOnlyList<ColumnInfo> Columns => Table.ExportedColumns;

    public IEnumerable<ExportedRows> Parts() => Table.Exported(Files);
}
