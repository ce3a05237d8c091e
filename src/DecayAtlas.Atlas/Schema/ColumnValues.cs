using System.Runtime.InteropServices;
using Parquet;
using Parquet.Schema;

namespace DecayAtlas.Atlas.Schema;

/// <summary>The values of one column for a run of rows, apart from the rows they were taken from: can be kept on disk and joined.</summary>
internal abstract class ColumnValues
{
    public abstract int Count { get; }

    public abstract void Save(BinaryWriter writer);

    public abstract Task WriteAsync(ParquetRowGroupWriter group, DataField field, int start, int count);
}

/// <summary>Text; equal strings are kept once, on disk and in memory.</summary>
internal sealed class TextValues(string?[] values) : ColumnValues
{
    public string?[] Values => values;

    public override int Count => values.Length;

    public override void Save(BinaryWriter writer)
    {
        Dictionary<string, int> words = new(StringComparer.Ordinal);
        int[] at = new int[values.Length];   // 0 is missing, n the n-th word
        for (int i = 0; i < values.Length; i++)
        {
            if (values[i] is not { } word)
                continue;
            if (!words.TryGetValue(word, out at[i]))
                words[word] = at[i] = words.Count + 1;
        }

        writer.Write(words.Count);
        foreach (string word in words.Keys)
            writer.Write(word);
        writer.Write(at.Length);
        writer.Write(MemoryMarshal.AsBytes(at.AsSpan()));
    }

    public static TextValues Load(BinaryReader reader)
    {
        string?[] words = new string?[reader.ReadInt32() + 1];
        for (int i = 1; i < words.Length; i++)
            words[i] = reader.ReadString();
        int[] at = new int[reader.ReadInt32()];
        reader.BaseStream.ReadExactly(MemoryMarshal.AsBytes(at.AsSpan()));
        return new TextValues(Array.ConvertAll(at, i => words[i]));
    }

    public override Task WriteAsync(ParquetRowGroupWriter group, DataField field, int start, int count) =>
        group.WriteAsync(field, new ArraySegment<string?>(values, start, count)!);
}

internal sealed class BinaryValues(byte[]?[] values) : ColumnValues
{
    public byte[]?[] Values => values;

    public override int Count => values.Length;

    public override void Save(BinaryWriter writer)
    {
        writer.Write(values.Length);
        foreach (byte[]? value in values)
        {
            writer.Write(value?.Length ?? -1);
            if (value is not null)
                writer.Write(value);
        }
    }

    public static BinaryValues Load(BinaryReader reader)
    {
        byte[]?[] values = new byte[]?[reader.ReadInt32()];
        for (int i = 0; i < values.Length; i++)
        {
            int length = reader.ReadInt32();
            values[i] = length < 0 ? null : reader.ReadBytes(length);
        }

        return new BinaryValues(values);
    }

    public override Task WriteAsync(ParquetRowGroupWriter group, DataField field, int start, int count) =>
        group.WriteAsync(field, new ArraySegment<byte[]?>(values, start, count)!);
}

/// <summary>Numbers, dates and yes/no.</summary>
internal sealed class PlainValues<T>(T[] values, bool[] present) : ColumnValues
    where T : unmanaged
{
    public T[] Values => values;

    public bool[] Present => present;

    public override int Count => values.Length;

    public override void Save(BinaryWriter writer)
    {
        writer.Write(values.Length);
        writer.Write(MemoryMarshal.AsBytes(present.AsSpan()));
        writer.Write(MemoryMarshal.AsBytes(values.AsSpan()));
    }

    public static PlainValues<T> Load(BinaryReader reader)
    {
        int count = reader.ReadInt32();
        T[] values = new T[count];
        bool[] present = new bool[count];
        reader.BaseStream.ReadExactly(MemoryMarshal.AsBytes(present.AsSpan()));
        reader.BaseStream.ReadExactly(MemoryMarshal.AsBytes(values.AsSpan()));
        return new PlainValues<T>(values, present);
    }

    public override Task WriteAsync(ParquetRowGroupWriter group, DataField field, int start, int count)
    {
        T?[] slice = new T?[count];
        for (int i = 0; i < count; i++)
            slice[i] = present[start + i] ? values[start + i] : null;
        return group.WriteAsync<T>(field, slice, null, null, default);
    }
}
