using System.Buffers.Binary;
using System.Text;

namespace DecayAtlas.Grids.Tests;

/// <summary>
/// Writes small NetCDF-3 files of all three versions for the tests, with types and attributes that other tools seldom write.
/// GDAL reads the same files beside the product.
/// </summary>
internal sealed class ClassicWriter(int version)
{
    private readonly List<(string Name, int Length)> _dimensions = [];
    private readonly List<Entry> _variables = [];

    /// <summary>A dimension; length 0 makes it the record dimension.</summary>
    public ClassicWriter Dimension(string name, int length)
    {
        _dimensions.Add((name, length));
        return this;
    }

    public ClassicWriter Variable(string name, string dimensions, Type type, double[] values,
        params (string Name, object Value)[] attributes)
    {
        int[] ids = [.. dimensions.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(d => _dimensions.FindIndex(x => x.Name == d))];
        _variables.Add(new Entry(name, ids, type, attributes, values));
        return this;
    }

    public string Save(string path)
    {
        int records = _variables.Where(IsRecord).Select(v => v.Values.Length / Fixed(v)).DefaultIfEmpty(0).First();
        long[] begins = new long[_variables.Count];
        byte[] header = Header(records, begins);
        long at = header.Length;
        foreach (int i in Enumerable.Range(0, begins.Length).OrderBy(i => IsRecord(_variables[i])))
        {
            begins[i] = at;
            at += Padded(Fixed(_variables[i]) * Size(_variables[i].Type));
        }

        using MemoryStream stream = new();
        stream.Write(Header(records, begins));
        foreach (Entry v in _variables.Where(v => !IsRecord(v)))
            Put(stream, v.Type, v.Values, pad: true);

        bool alone = _variables.Count(IsRecord) == 1;
        for (int r = 0; r < records; r++)
        {
            foreach (Entry v in _variables.Where(IsRecord))
                Put(stream, v.Type, v.Values.AsSpan(r * Fixed(v), Fixed(v)), pad: !alone);
        }

        File.WriteAllBytes(path, stream.ToArray());
        return path;
    }

    private bool IsRecord(Entry v) =>
        v.Dimensions.Length > 0 && _dimensions[v.Dimensions[0]].Length == 0;

    private int Fixed(Entry v) =>
        v.Dimensions.Where(d => _dimensions[d].Length > 0).Aggregate(1, (n, d) => n * _dimensions[d].Length);

    private byte[] Header(int records, long[] begins)
    {
        using MemoryStream stream = new();
        stream.Write("CDF"u8);
        stream.WriteByte((byte)version);
        Count(stream, records);
        Int(stream, 10);
        Count(stream, _dimensions.Count);
        foreach ((string name, int length) in _dimensions)
        {
            Name(stream, name);
            Count(stream, length);
        }

        Int(stream, 0);
        Count(stream, 0);
        Int(stream, 11);
        Count(stream, _variables.Count);
        for (int i = 0; i < _variables.Count; i++)
        {
            Entry v = _variables[i];
            Name(stream, v.Name);
            Count(stream, v.Dimensions.Length);
            foreach (int d in v.Dimensions)
                Count(stream, d);

            Int(stream, v.Attributes.Length == 0 ? 0 : 12);
            Count(stream, v.Attributes.Length);
            foreach ((string name, object value) in v.Attributes)
            {
                Name(stream, name);
                if (value is string text)
                {
                    Int(stream, 2);
                    Name(stream, text);
                }
                else
                {
                    (Type type, double[] numbers) = value is (Type t, double[] n) ? (t, n)
                        : (v.Type, new[] { Convert.ToDouble(value, null) });
                    Int(stream, Kind(type));
                    Count(stream, numbers.Length);
                    Put(stream, type, numbers, pad: true);
                }
            }

            Int(stream, Kind(v.Type));
            Count(stream, (int)Padded(Fixed(v) * Size(v.Type)));
            if (version == 1)
            {
                Int(stream, (int)begins[i]);
            }
            else
            {
                byte[] wide = new byte[8];
                BinaryPrimitives.WriteInt64BigEndian(wide, begins[i]);
                stream.Write(wide);
            }
        }

        return stream.ToArray();
    }

    private static int Kind(Type type) => Type.GetTypeCode(type) switch
    {
        TypeCode.SByte => 1,
        TypeCode.Int16 => 3,
        TypeCode.Int32 => 4,
        TypeCode.Single => 5,
        TypeCode.Double => 6,
        TypeCode.Byte => 7,
        TypeCode.UInt16 => 8,
        TypeCode.UInt32 => 9,
        TypeCode.Int64 => 10,
        _ => 11,
    };

    private static int Size(Type type) => Type.GetTypeCode(type) switch
    {
        TypeCode.SByte or TypeCode.Byte => 1,
        TypeCode.Int16 or TypeCode.UInt16 => 2,
        TypeCode.Int32 or TypeCode.UInt32 or TypeCode.Single => 4,
        _ => 8,
    };

    private static long Padded(long bytes) => (bytes + 3) / 4 * 4;

    private static void Put(Stream stream, Type type, ReadOnlySpan<double> values, bool pad)
    {
        long start = stream.Position;
        byte[] b = new byte[8];
        foreach (double value in values)
        {
            switch (Type.GetTypeCode(type))
            {
                case TypeCode.SByte: b[0] = (byte)(sbyte)value; break;
                case TypeCode.Byte: b[0] = (byte)value; break;
                case TypeCode.Int16: BinaryPrimitives.WriteInt16BigEndian(b, (short)value); break;
                case TypeCode.UInt16: BinaryPrimitives.WriteUInt16BigEndian(b, (ushort)value); break;
                case TypeCode.Int32: BinaryPrimitives.WriteInt32BigEndian(b, (int)value); break;
                case TypeCode.UInt32: BinaryPrimitives.WriteUInt32BigEndian(b, (uint)value); break;
                case TypeCode.Single: BinaryPrimitives.WriteSingleBigEndian(b, (float)value); break;
                case TypeCode.Double: BinaryPrimitives.WriteDoubleBigEndian(b, value); break;
                case TypeCode.Int64: BinaryPrimitives.WriteInt64BigEndian(b, (long)value); break;
                default: BinaryPrimitives.WriteUInt64BigEndian(b, (ulong)value); break;
            }

            stream.Write(b, 0, Size(type));
        }

        while (pad && (stream.Position - start) % 4 != 0)
            stream.WriteByte(0);
    }

    private void Name(Stream stream, string text)
    {
        byte[] bytes = Encoding.UTF8.GetBytes(text);
        Count(stream, bytes.Length);
        stream.Write(bytes);
        stream.Write(new byte[(4 - bytes.Length % 4) % 4]);
    }

    private void Count(Stream stream, int value)
    {
        if (version == 5)
            Int(stream, 0);

        Int(stream, value);
    }

    private static void Int(Stream stream, int value)
    {
        Span<byte> b = stackalloc byte[4];
        BinaryPrimitives.WriteInt32BigEndian(b, value);
        stream.Write(b);
    }

    private sealed record Entry(string Name, int[] Dimensions, Type Type, (string Name, object Value)[] Attributes, double[] Values);
}
