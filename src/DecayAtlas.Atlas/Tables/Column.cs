using Parquet.Schema;

namespace DecayAtlas.Atlas.Tables;

/// <summary>One column of a released table: its name, unit and meaning, and how its value is taken from a row.</summary>
public abstract class Column<TRow>
{
    private protected Column(string name, string? unit, string description, string type)
    {
        (Name, Unit, Description, Type) = (name, unit, description, type);
    }

    /// <summary>Snake case; the unit at the end of the name where there is one.</summary>
    public string Name { get; }

    /// <summary>The unit in words a reader can cite, or <see langword="null"/> for text and counts.</summary>
    public string? Unit { get; }

    /// <summary>What the value is, in one or two sentences.</summary>
    public string Description { get; }

    /// <summary>The Table Schema type: string, number, integer, boolean or date.</summary>
    public string Type { get; }

    /// <summary>Makes the field for one file. Writing a schema changes its fields, so that two files must never share one.</summary>
    internal abstract DataField NewField();

    /// <summary>Takes the column's values from rows.</summary>
    internal abstract ColumnValues Take(IReadOnlyList<TRow> rows);

    /// <summary>Reads what <see cref="ColumnValues.Save"/> wrote.</summary>
    internal abstract ColumnValues Load(BinaryReader reader);

    /// <summary>Puts runs one after the other.</summary>
    internal abstract ColumnValues Join(IReadOnlyList<ColumnValues> runs);
}

/// <summary>Makes columns; one factory a type, so that a table's definition reads as a list.</summary>
public static class Column
{
    public static Column<TRow> Text<TRow>(string name, string description, Func<TRow, string?> value) =>
        new TextColumn<TRow>(name, description, value);

    public static Column<TRow> Number<TRow>(string name, string unit, string description, Func<TRow, double?> value) =>
        new PlainColumn<TRow, double>(name, unit, description, "number", value);

    public static Column<TRow> WholeNumber<TRow>(string name, string? unit, string description, Func<TRow, int?> value) =>
        new PlainColumn<TRow, int>(name, unit, description, "integer", value);

    public static Column<TRow> YesNo<TRow>(string name, string description, Func<TRow, bool?> value) =>
        new PlainColumn<TRow, bool>(name, null, description, "boolean", value);

    public static Column<TRow> Date<TRow>(string name, string description, Func<TRow, DateOnly?> value) =>
        new PlainColumn<TRow, DateOnly>(name, null, description, "date", value);

    public static Column<TRow> Binary<TRow>(string name, string description, Func<TRow, byte[]?> value) =>
        new BinaryColumn<TRow>(name, description, value);

    private sealed class TextColumn<TRow>(string name, string description, Func<TRow, string?> value)
        : Column<TRow>(name, null, description, "string")
    {
        internal override DataField NewField() => new DataField<string>(Name);

        internal override ColumnValues Take(IReadOnlyList<TRow> rows)
        {
            var values = new string?[rows.Count];
            for (int i = 0; i < values.Length; i++)
                values[i] = value(rows[i]);
            return new TextValues(values);
        }

        internal override ColumnValues Load(BinaryReader reader) => TextValues.Load(reader);

        internal override ColumnValues Join(IReadOnlyList<ColumnValues> runs) => new TextValues([.. runs.SelectMany(r => ((TextValues)r).Values)]);
    }

    private sealed class BinaryColumn<TRow>(string name, string description, Func<TRow, byte[]?> value)
        : Column<TRow>(name, null, description, "string")
    {
        internal override DataField NewField() => new DataField<byte[]>(Name);

        internal override ColumnValues Take(IReadOnlyList<TRow> rows) => new BinaryValues([.. rows.Select(value)]);

        internal override ColumnValues Load(BinaryReader reader) => BinaryValues.Load(reader);

        internal override ColumnValues Join(IReadOnlyList<ColumnValues> runs) => new BinaryValues([.. runs.SelectMany(r => ((BinaryValues)r).Values)]);
    }

    private sealed class PlainColumn<TRow, T>(string name, string? unit, string description, string type, Func<TRow, T?> value)
        : Column<TRow>(name, unit, description, type)
        where T : unmanaged
    {
        internal override DataField NewField() => new DataField<T?>(Name);

        internal override ColumnValues Take(IReadOnlyList<TRow> rows)
        {
            var (values, present) = (new T[rows.Count], new bool[rows.Count]);
            for (int i = 0; i < values.Length; i++)
            {
                T? found = value(rows[i]);
                (values[i], present[i]) = (found.GetValueOrDefault(), found.HasValue);
            }

            return new PlainValues<T>(values, present);
        }

        internal override ColumnValues Load(BinaryReader reader) => PlainValues<T>.Load(reader);

        internal override ColumnValues Join(IReadOnlyList<ColumnValues> runs)
        {
            int count = runs.Sum(r => r.Count), at = 0;
            var (values, present) = (new T[count], new bool[count]);
            foreach (PlainValues<T> run in runs.Cast<PlainValues<T>>())
            {
                run.Values.CopyTo(values, at);
                run.Present.CopyTo(present, at);
                at += run.Count;
            }

            return new PlainValues<T>(values, present);
        }
    }
}
