using Parquet;
using Parquet.Schema;

namespace DecayAtlas.Atlas.Tables;

/// <summary>One column of a released table: its name, unit and meaning, and how its value is taken from a row.</summary>
public abstract class Column<TRow>
{
    private protected Column(string name, string? unit, string description, string type, DataField field)
    {
        (Name, Unit, Description, Type, Field) = (name, unit, description, type, field);
    }

    /// <summary>Snake case; the unit at the end of the name where there is one.</summary>
    public string Name { get; }

    /// <summary>The unit in words a reader can cite, or <see langword="null"/> for text and counts.</summary>
    public string? Unit { get; }

    /// <summary>What the value is, in one or two sentences.</summary>
    public string Description { get; }

    /// <summary>The Table Schema type: string, number, integer, boolean or date.</summary>
    public string Type { get; }

    internal DataField Field { get; }

    internal abstract Task WriteAsync(ParquetRowGroupWriter group, ReadOnlyMemory<TRow> rows);
}

/// <summary>Makes columns; one factory a type, so that a table's definition reads as a list.</summary>
public static class Column
{
    public static Column<TRow> Text<TRow>(string name, string description, Func<TRow, string?> value) =>
        new TextColumn<TRow>(name, description, value);

    public static Column<TRow> Number<TRow>(string name, string unit, string description, Func<TRow, double?> value) =>
        new ValueColumn<TRow, double>(name, unit, description, "number", value);

    public static Column<TRow> WholeNumber<TRow>(string name, string? unit, string description, Func<TRow, int?> value) =>
        new ValueColumn<TRow, int>(name, unit, description, "integer", value);

    public static Column<TRow> YesNo<TRow>(string name, string description, Func<TRow, bool?> value) =>
        new ValueColumn<TRow, bool>(name, null, description, "boolean", value);

    public static Column<TRow> Date<TRow>(string name, string description, Func<TRow, DateOnly?> value) =>
        new ValueColumn<TRow, DateOnly>(name, null, description, "date", value);

    public static Column<TRow> Binary<TRow>(string name, string description, Func<TRow, byte[]?> value) =>
        new BinaryColumn<TRow>(name, description, value);

    private sealed class TextColumn<TRow>(string name, string description, Func<TRow, string?> value)
        : Column<TRow>(name, null, description, "string", new DataField<string>(name))
    {
        internal override Task WriteAsync(ParquetRowGroupWriter group, ReadOnlyMemory<TRow> rows)
        {
            var values = new string?[rows.Length];
            for (int i = 0; i < values.Length; i++)
                values[i] = value(rows.Span[i]);
            return group.WriteAsync(Field, values!);
        }
    }

    private sealed class BinaryColumn<TRow>(string name, string description, Func<TRow, byte[]?> value)
        : Column<TRow>(name, null, description, "string", new DataField<byte[]>(name))
    {
        internal override Task WriteAsync(ParquetRowGroupWriter group, ReadOnlyMemory<TRow> rows)
        {
            var values = new byte[]?[rows.Length];
            for (int i = 0; i < values.Length; i++)
                values[i] = value(rows.Span[i]);
            return group.WriteAsync(Field, values!);
        }
    }

    private sealed class ValueColumn<TRow, T>(string name, string? unit, string description, string type, Func<TRow, T?> value)
        : Column<TRow>(name, unit, description, type, new DataField<T?>(name))
        where T : struct
    {
        internal override Task WriteAsync(ParquetRowGroupWriter group, ReadOnlyMemory<TRow> rows)
        {
            var values = new T?[rows.Length];
            for (int i = 0; i < values.Length; i++)
                values[i] = value(rows.Span[i]);
            return group.WriteAsync<T>(Field, values, null, null, default);
        }
    }
}
