using System.Globalization;
using System.Text.Json;

namespace DecayAtlas.Serving.Features;

/// <summary>One property of the features of a collection: the values of all rows, held so that writing one is cheap.</summary>
internal abstract class FeatureColumn(ColumnInfo info)
{
    private readonly JsonEncodedText _name = JsonEncodedText.Encode(info.Name);

    public ColumnInfo Info => info;

    /// <summary>Writes name and value of one row; a missing value is written as null, so that all features have the same
    /// properties.</summary>
    public void Write(Utf8JsonWriter writer, int row)
    {
        writer.WritePropertyName(_name);
        if (!TryWriteValue(writer, row))
            writer.WriteNullValue();
    }

    /// <summary>The value of one row; missing is <see langword="null"/>.</summary>
    public abstract object? ValueAt(int row);

    /// <returns>False where the value is missing, and nothing was written.</returns>
    protected abstract bool TryWriteValue(Utf8JsonWriter writer, int row);
}

/// <summary>Text with few different values, each held once; rows can be asked by value.</summary>
internal sealed class CodedTextColumn : FeatureColumn
{
    private readonly int[] _codes;
    private readonly JsonEncodedText[] _values;
    private readonly string[] _texts;
    private readonly Dictionary<string, int> _codeOf = [];

    public CodedTextColumn(ColumnInfo info, string?[] values) : base(info)
    {
        _codes = new int[values.Length];
        for (int i = 0; i < values.Length; i++)
        {
            if (values[i] is not { } value)
                _codes[i] = -1;
            else if (!_codeOf.TryGetValue(value, out _codes[i]))
                _codeOf.Add(value, _codes[i] = _codeOf.Count);
        }

        _texts = [.. _codeOf.OrderBy(v => v.Value).Select(v => v.Key)];
        _values = [.. _texts.Select(text => JsonEncodedText.Encode(text))];
    }

    public override object? ValueAt(int row) => _codes[row] >= 0 ? _texts[_codes[row]] : null;

    /// <summary>Says of which rows the value is equal; <see langword="null"/> where it is of none.</summary>
    public Predicate<int>? Having(string value)
    {
        if (!_codeOf.TryGetValue(value, out int code))
            return null;
        int[] codes = _codes;
        return row => codes[row] == code;
    }

    protected override bool TryWriteValue(Utf8JsonWriter writer, int row)
    {
        int code = _codes[row];
        if (code >= 0)
            writer.WriteStringValue(_values[code]);
        return code >= 0;
    }
}

/// <summary>Text that is another in nearly every row, as an id.</summary>
internal sealed class PlainTextColumn(ColumnInfo info, string?[] values) : FeatureColumn(info)
{
    public override object? ValueAt(int row) => values[row];

    protected override bool TryWriteValue(Utf8JsonWriter writer, int row)
    {
        if (values[row] is not { } value)
            return false;
        writer.WriteStringValue(value);
        return true;
    }
}

/// <summary>Numbers; missing is NaN.</summary>
internal sealed class NumberColumn(ColumnInfo info, double[] values) : FeatureColumn(info)
{
    public override object? ValueAt(int row) => double.IsNaN(values[row]) ? null : values[row];

    protected override bool TryWriteValue(Utf8JsonWriter writer, int row)
    {
        if (double.IsNaN(values[row]))
            return false;
        writer.WriteNumberValue(values[row]);
        return true;
    }
}

/// <summary>Values of another type, each written in its own way.</summary>
internal sealed class ValueColumn<T>(ColumnInfo info, T?[] values, Action<Utf8JsonWriter, T> write) : FeatureColumn(info)
    where T : struct, IEquatable<T>
{
    public Predicate<int> Having(T value) => row => values[row] is { } known && known.Equals(value);

    public override object? ValueAt(int row) => values[row];

    protected override bool TryWriteValue(Utf8JsonWriter writer, int row)
    {
        if (values[row] is not { } value)
            return false;
        write(writer, value);
        return true;
    }
}

/// <summary>Makes columns of the types that a release has besides text and number.</summary>
internal static class ValueColumn
{
    public static ValueColumn<int> OfWholeNumbers(ColumnInfo info, int?[] values) =>
        new(info, values, static (writer, value) => writer.WriteNumberValue(value));

    public static ValueColumn<bool> OfYesNo(ColumnInfo info, bool?[] values) =>
        new(info, values, static (writer, value) => writer.WriteBooleanValue(value));

    public static ValueColumn<DateOnly> OfDates(ColumnInfo info, DateOnly?[] values) => new(info, values, static (writer, value) =>
    {
        Span<byte> text = stackalloc byte[10];
        value.TryFormat(text, out int length, "yyyy-MM-dd", CultureInfo.InvariantCulture);
        writer.WriteStringValue(text[..length]);
    });
}
