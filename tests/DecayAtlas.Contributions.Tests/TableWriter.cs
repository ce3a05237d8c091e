using System.Text;
using nietras.SeparatedValues;

namespace DecayAtlas.Contributions.Tests;

/// <summary>
/// Writes a table of a contribution as it is to be read: UTF-8 without BOM, commas, '\n', the columns of the schema in
/// their order, quotes only where a text needs them.
/// </summary>
internal sealed class TableWriter : IDisposable
{
    private readonly TableSchema _schema;
    private readonly SepWriter _writer;

    public TableWriter(Stream stream, TableSchema schema)
    {
        _schema = schema;
        StreamWriter text = new(stream, new UTF8Encoding(encoderShouldEmitUTF8Identifier: false)) { NewLine = "\n" };
        _writer = Sep.New(',').Writer(options => options with { Escape = true, WriteHeader = false }).To(text);
        WriteRow([.. schema.ColumnNames]);
    }

    public static TableWriter Create(string path, TableSchema schema) => new(File.Create(path), schema);

    /// <summary>Writes one row.</summary>
    /// <param name="cells">One text a column, in the order of <see cref="TableSchema.ColumnNames"/>; null or empty is a missing
    /// value.</param>
    public void WriteRow(params ReadOnlySpan<string?> cells)
    {
        if (cells.Length != _schema.Fields.Count)
            throw new ArgumentException($"The table {_schema.Name} has {_schema.Fields.Count} columns, not {cells.Length}.", nameof(cells));
        using SepWriter.Row row = _writer.NewRow();
        for (int i = 0; i < cells.Length; i++)
            row[i].Set(cells[i] ?? "");
    }

    public void Dispose() => _writer.Dispose();
}
