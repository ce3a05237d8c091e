using System.Reflection;
using System.Runtime.CompilerServices;
using Parquet;
using Parquet.Schema;

namespace DecayAtlas.Atlas.Schema;

/// <summary>
/// Makes a property of a row the column of a released table, written and read by this declaration alone. Columns stand in the order
/// of their properties, those of a base class last.
/// </summary>
/// <param name="name">Snake case; the unit at the end of the name where there is one.</param>
/// <param name="meaning">What the value is, in one or two sentences.</param>
/// <param name="unit">In words a reader can cite; missing for text and counts.</param>
[AttributeUsage(AttributeTargets.Property)]
public class ColumnAttribute(string name, string meaning, string? unit = null, [CallerLineNumber] int line = 0) : Attribute
{
    public string Name => name;

    public string Meaning => meaning;

    public string? Unit => unit;

    /// <summary>Whether the column is one of those that together name one row.</summary>
    public bool IsKey { get; init; }

    internal int Line => line;
}

/// <summary>Makes a property of a row the four columns of a fitted parameter.</summary>
/// <param name="letter">How all their names begin.</param>
/// <param name="ending">How all their names end.</param>
[AttributeUsage(AttributeTargets.Property)]
public sealed class ParameterColumnsAttribute(
    string letter, string meaning, string unit, string ending = "", [CallerLineNumber] int line = 0)
    : ColumnAttribute(letter + ending, meaning, unit, line)
{
    internal IReadOnlyList<ColumnAttribute> Columns { get; } =
    [
        new(letter + ending, meaning, unit),
        new($"{letter}_se{ending}", $"Standard error of {letter}; missing where it stands on the edge of what is possible.", unit),
        new($"{letter}_lower95{ending}",
            $"Lower end of the 95 % profile-likelihood interval of {letter}; missing where the data set none.", unit),
        new($"{letter}_upper95{ending}", "Upper end of that interval.", unit),
    ];
}

/// <summary>A fitted parameter as it is released, in the unit of its columns.</summary>
public sealed record ReleasedParameter(
    double? Value = null, double? StandardError = null, double? Lower95 = null, double? Upper95 = null);

/// <summary>Makes a property of a row a hive partition key of its table: its value is in folder names and not in the files.</summary>
[AttributeUsage(AttributeTargets.Property)]
public sealed class PartitionAttribute(string name, [CallerLineNumber] int line = 0) : Attribute
{
    public string Name => name;

    internal int Line => line;
}

/// <summary>What a reader is told of a column.</summary>
/// <param name="Type">The Table Schema type: string, number, integer, boolean or date.</param>
public sealed record ColumnInfo(string Name, string Type, string? Unit, string Description);

/// <summary>One column of a released table, made from the property that declares it.</summary>
internal abstract class Column<TRow>
{
    private protected Column(PropertyInfo property, ColumnAttribute declared, string type)
    {
        Property = property.Name;
        IsKey = declared.IsKey;
        IsRequired = property.IsDefined(typeof(RequiredMemberAttribute));
        Info = new ColumnInfo(declared.Name, type, declared.Unit, declared.Meaning);
    }

    public ColumnInfo Info { get; }

    public string Name => Info.Name;

    public bool IsKey { get; }

    public bool IsRequired { get; }

    /// <summary>Whether it holds bytes, which no text shows.</summary>
    public virtual bool IsBinary => false;

    public string Property { get; }

    /// <exception cref="NotSupportedException">No column is made of properties of its type.</exception>
    public static IEnumerable<Column<TRow>> Of(PropertyInfo property, ColumnAttribute declared)
    {
        if (declared is ParameterColumnsAttribute parameter)
            return Of(property, parameter.Columns);
        Type type = Nullable.GetUnderlyingType(property.PropertyType) ?? property.PropertyType;
        return [type == typeof(string) ? new TextColumn(property, declared)
            : type == typeof(double) ? new PlainColumn<double>(property, declared, "number")
            : type == typeof(int) ? new PlainColumn<int>(property, declared, "integer")
            : type == typeof(bool) ? new PlainColumn<bool>(property, declared, "boolean")
            : type == typeof(DateOnly) ? new PlainColumn<DateOnly>(property, declared, "date")
            : type == typeof(byte[]) ? new BinaryColumn(property, declared)
            : throw new NotSupportedException($"{typeof(TRow).Name}.{property.Name} is a {type.Name}, of which no column is made.")];
    }

    private static IEnumerable<Column<TRow>> Of(PropertyInfo property, IReadOnlyList<ColumnAttribute> columns)
    {
        Func<TRow, ReleasedParameter> get = property.GetMethod!.CreateDelegate<Func<TRow, ReleasedParameter>>();
        Action<TRow, ReleasedParameter> set = property.SetMethod!.CreateDelegate<Action<TRow, ReleasedParameter>>();
        return
        [
            Part(columns[0], p => p.Value, (p, value) => p with { Value = value }),
            Part(columns[1], p => p.StandardError, (p, value) => p with { StandardError = value }),
            Part(columns[2], p => p.Lower95, (p, value) => p with { Lower95 = value }),
            Part(columns[3], p => p.Upper95, (p, value) => p with { Upper95 = value }),
        ];

        PlainColumn<double> Part(
            ColumnAttribute declared, Func<ReleasedParameter, double?> of, Func<ReleasedParameter, double?, ReleasedParameter> with) =>
            new(property, declared, "number", row => of(get(row)), (row, value) => set(row, with(get(row), value)));
    }

    /// <summary>Makes the field for one file. Writing a schema changes its fields, so that two files must never share one.</summary>
    public abstract DataField NewField();

    public abstract ColumnValues Take(IReadOnlyList<TRow> rows);

    /// <summary>Reads what <see cref="ColumnValues.Save"/> wrote.</summary>
    public abstract ColumnValues Load(BinaryReader reader);

    public abstract ColumnValues Join(IReadOnlyList<ColumnValues> runs);

    /// <summary>The other way round as <see cref="Take"/>, into rows that were made for it.</summary>
    public abstract void Give(ColumnValues values, IReadOnlyList<TRow> rows);

    /// <summary>Reads a row group into rows that were made for it.</summary>
    public abstract Task ReadAsync(ParquetRowGroupReader group, DataField field, TRow[] rows, TextPool pool);

    private InvalidDataException Lacks() => new($"column {Name} is missing in a row, where every row has one");

    private sealed class TextColumn(PropertyInfo property, ColumnAttribute declared) : Column<TRow>(property, declared, "string")
    {
        private readonly Func<TRow, string?> _get = property.GetMethod!.CreateDelegate<Func<TRow, string?>>();
        private readonly Action<TRow, string?>? _set = property.SetMethod?.CreateDelegate<Action<TRow, string?>>();

        public override DataField NewField() => new DataField<string>(Name);

        public override ColumnValues Take(IReadOnlyList<TRow> rows)
        {
            string?[] values = new string?[rows.Count];
            for (int i = 0; i < values.Length; i++)
                values[i] = _get(rows[i]);
            return new TextValues(values);
        }

        public override ColumnValues Load(BinaryReader reader) => TextValues.Load(reader);

        public override ColumnValues Join(IReadOnlyList<ColumnValues> runs) =>
            new TextValues([.. runs.SelectMany(r => ((TextValues)r).Values)]);

        public override void Give(ColumnValues values, IReadOnlyList<TRow> rows)
        {
            for (int i = 0; i < rows.Count; i++)
                _set?.Invoke(rows[i], ((TextValues)values).Values[i]);
        }

        public override async Task ReadAsync(ParquetRowGroupReader group, DataField field, TRow[] rows, TextPool pool)
        {
            if (_set is null)
                return;   // worked out from other columns
            string?[] values = new string?[rows.Length];
            await group.ReadAsync(field, values.AsMemory()!, null, default);
            for (int i = 0; i < values.Length; i++)
            {
                if (values[i] is { } value)
                    _set(rows[i], pool.Of(value));
                else if (IsRequired)
                    throw Lacks();
            }
        }
    }

    private sealed class BinaryColumn(PropertyInfo property, ColumnAttribute declared) : Column<TRow>(property, declared, "string")
    {
        private readonly Func<TRow, byte[]?> _get = property.GetMethod!.CreateDelegate<Func<TRow, byte[]?>>();
        private readonly Action<TRow, byte[]?> _set = property.SetMethod!.CreateDelegate<Action<TRow, byte[]?>>();

        public override bool IsBinary => true;

        public override DataField NewField() => new DataField<byte[]>(Name);

        public override ColumnValues Take(IReadOnlyList<TRow> rows) => new BinaryValues([.. rows.Select(_get)]);

        public override ColumnValues Load(BinaryReader reader) => BinaryValues.Load(reader);

        public override ColumnValues Join(IReadOnlyList<ColumnValues> runs) =>
            new BinaryValues([.. runs.SelectMany(r => ((BinaryValues)r).Values)]);

        public override void Give(ColumnValues values, IReadOnlyList<TRow> rows)
        {
            for (int i = 0; i < rows.Count; i++)
                _set(rows[i], ((BinaryValues)values).Values[i]);
        }

        public override async Task ReadAsync(ParquetRowGroupReader group, DataField field, TRow[] rows, TextPool pool)
        {
            byte[]?[] values = new byte[]?[rows.Length];
            await group.ReadAsync(field, values.AsMemory()!, null, default);
            for (int i = 0; i < values.Length; i++)
                _set(rows[i], values[i]);
        }
    }

    private sealed class PlainColumn<T> : Column<TRow>
        where T : unmanaged
    {
        private readonly Func<TRow, T?> _get;
        private readonly Action<TRow, T?> _set;

        public PlainColumn(PropertyInfo property, ColumnAttribute declared, string type, Func<TRow, T?> get, Action<TRow, T?> set)
            : base(property, declared, type) => (_get, _set) = (get, set);

        public PlainColumn(PropertyInfo property, ColumnAttribute declared, string type)
            : base(property, declared, type)
        {
            if (property.PropertyType == typeof(T))
            {
                Func<TRow, T> get = property.GetMethod!.CreateDelegate<Func<TRow, T>>();
                Action<TRow, T> set = property.SetMethod!.CreateDelegate<Action<TRow, T>>();
                _get = row => get(row);
                _set = (row, value) => set(row, value ?? throw Lacks());
            }
            else
            {
                _get = property.GetMethod!.CreateDelegate<Func<TRow, T?>>();
                _set = property.SetMethod!.CreateDelegate<Action<TRow, T?>>();
            }
        }

        public override DataField NewField() => new DataField<T?>(Name);

        public override ColumnValues Take(IReadOnlyList<TRow> rows)
        {
            T[] values = new T[rows.Count];
            bool[] present = new bool[rows.Count];
            for (int i = 0; i < values.Length; i++)
            {
                T? found = _get(rows[i]);
                (values[i], present[i]) = (found.GetValueOrDefault(), found.HasValue);
            }

            return new PlainValues<T>(values, present);
        }

        public override ColumnValues Load(BinaryReader reader) => PlainValues<T>.Load(reader);

        public override ColumnValues Join(IReadOnlyList<ColumnValues> runs)
        {
            int count = runs.Sum(r => r.Count), at = 0;
            T[] values = new T[count];
            bool[] present = new bool[count];
            foreach (PlainValues<T> run in runs.Cast<PlainValues<T>>())
            {
                run.Values.CopyTo(values, at);
                run.Present.CopyTo(present, at);
                at += run.Count;
            }

            return new PlainValues<T>(values, present);
        }

        public override void Give(ColumnValues values, IReadOnlyList<TRow> rows)
        {
            PlainValues<T> plain = (PlainValues<T>)values;
            for (int i = 0; i < rows.Count; i++)
                _set(rows[i], plain.Present[i] ? plain.Values[i] : null);
        }

        public override async Task ReadAsync(ParquetRowGroupReader group, DataField field, TRow[] rows, TextPool pool)
        {
            T?[] values = new T?[rows.Length];
            await group.ReadAsync<T>(field, values.AsMemory(), null, default);
            for (int i = 0; i < values.Length; i++)
                _set(rows[i], values[i]);
        }
    }
}
