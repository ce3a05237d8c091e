using System.Runtime.InteropServices;
using System.Text;

namespace DecayAtlas.Grids.Formats.NetCdf;

/// <summary>One variable of a file of columns.</summary>
/// <param name="Dimensions">Names, slowest first; empty for a variable that only carries attributes.</param>
/// <param name="Values">double[], int[], sbyte[] or string[] (kept as letters, in a dimension of their own).</param>
/// <param name="Attributes">Each a text, a double, or an sbyte[]; in their order.</param>
public sealed record NetCdfColumn(
    string Name, IReadOnlyList<string> Dimensions, Array Values, IReadOnlyList<(string Name, object Value)> Attributes);

/// <summary>
/// Writes columns of numbers and texts over named dimensions to a NetCDF-4 file, unpacked, as tables of observations are. The same columns
/// give the same bytes. Missing is NaN.
/// </summary>
/// <remarks>Dimensions have no coordinate variables: each is an empty scale, as the NetCDF library makes it. See <see cref="NetCdfWriter"/>
/// for why it is written here.</remarks>
public static class NetCdfColumns
{
    private const int SuperblockBytes = 48, HeapBytes = 4096;

    /// <summary>Writes the file, replacing one of that name.</summary>
    /// <exception cref="GridException">The disk refuses.</exception>
    public static void Write(string path, IReadOnlyList<(string Name, int Length)> dimensions, IReadOnlyList<NetCdfColumn> columns,
        IReadOnlyList<(string Name, object Value)> attributes)
    {
        ArgumentNullException.ThrowIfNull(path);
        ArgumentNullException.ThrowIfNull(dimensions);
        ArgumentNullException.ThrowIfNull(columns);
        ArgumentNullException.ThrowIfNull(attributes);
        List<(string Name, int Length)> all = [.. dimensions];
        Stored[] stored = [.. columns.Select(column => Stored.Of(column, all))];
        try
        {
            using FileStream file = new(path, FileMode.Create, FileAccess.Write, FileShare.None, 1 << 16);
            Write(file, all, stored, attributes);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new GridException($"{path} cannot be written: {e.Message.TrimEnd('.')}.", e);
        }
    }

    private static void Write(
        FileStream file, List<(string Name, int Length)> dimensions, Stored[] columns,
        IReadOnlyList<(string Name, object Value)> attributes)
    {
        file.Write(new byte[SuperblockBytes]);
        ulong[] data = new ulong[columns.Length];
        for (int c = 0; c < columns.Length; c++)
        {
            data[c] = (ulong)file.Position;
            file.Write(columns[c].Bytes);
        }

        // dimensions, columns: measured with no addresses first
        ulong heap = (ulong)file.Position, at = heap + HeapBytes;
        ulong[] addresses = new ulong[dimensions.Count + columns.Length];
        byte[][] objects = Objects();
        for (int i = 0; i < objects.Length; i++)
        {
            addresses[i] = at;
            at += (ulong)objects[i].Length;
        }

        file.Write(Heap(addresses.AsSpan(0, dimensions.Count)));
        foreach (byte[] one in Objects())
            file.Write(one);

        string[] names = [.. dimensions.Select(d => d.Name), .. columns.Select(c => c.Name)];
        HdfObject root = new HdfObject().Group(names.Length);
        for (int i = 0; i < names.Length; i++)
            root.Link(names[i], i, addresses[i]);

        file.Write(Add(root, attributes).ToArray());
        HdfBytes superblock = new HdfBytes().U8(0x89).Text("HDF\r\n").U8(0x1A).Text("\n").U8(2, 8, 8, 0)
            .U64(0, HdfBytes.Undefined, (ulong)file.Position, at);
        superblock.U32(HdfChecksum.Of(superblock.ToArray()));
        file.Position = 0;
        file.Write(superblock.ToArray());

        byte[][] Objects() =>
        [
            .. dimensions.Select((d, i) => DimensionObject(d.Name, d.Length, i, columns, addresses.AsSpan(dimensions.Count))),
            .. columns.Select((c, i) => ColumnObject(c, data[i], heap)),
        ];
    }

    private static byte[] DimensionObject(string name, int length, int number, Stored[] columns, ReadOnlySpan<ulong> addresses)
    {
        HdfObject scale = new HdfObject().Dataspace((ulong)length).Datatype(HdfType.Float32).Fill([])
            .Contiguous(HdfBytes.Undefined, (ulong)length * 4)
            .Scale($"This is a netCDF dimension but not a netCDF variable. {length,9}", number);
        HdfBytes uses = new();
        ulong count = 0;
        for (int c = 0; c < columns.Length; c++)
        {
            int place = columns[c].Dimensions.ToList().IndexOf(number);
            if (place < 0)
                continue;
            uses.U64(addresses[c]).U32((uint)place, 0);
            count++;
        }

        return (count == 0 ? scale : scale.Attribute("REFERENCE_LIST", HdfType.UseOfScale, uses.ToArray(), count)).ToArray();
    }

    private static byte[] ColumnObject(Stored column, ulong data, ulong heap)
    {
        HdfObject header = new HdfObject().Dataspace([.. column.Shape]).Datatype(column.Type).Fill([])
            .Contiguous(column.Bytes.Length == 0 ? HdfBytes.Undefined : data, (ulong)column.Bytes.Length);
        if (column.Dimensions.Count > 0)
        {
            HdfBytes list = new();
            foreach (int dimension in column.Dimensions)
                list.U32(1).U64(heap).U32((uint)dimension + 1);

            header.Attribute("DIMENSION_LIST", HdfType.ReferenceList, list.ToArray(), (ulong)column.Dimensions.Count);
        }

        if (column.Type == HdfType.Float64)
            header.Attribute("_FillValue", HdfType.Float64, BitConverter.GetBytes(double.NaN), 1);
        return Add(header, column.Attributes).ToArray();
    }

    private static HdfObject Add(HdfObject owner, IEnumerable<(string Name, object Value)> attributes) => attributes.Aggregate(owner,
        (o, attribute) => attribute.Value switch
        {
            double number => o.Number(attribute.Name, number),
            sbyte[] flags => o.Attribute(attribute.Name, HdfType.Int8, MemoryMarshal.AsBytes<sbyte>(flags).ToArray(), (ulong)flags.Length),
            object text => o.Text(attribute.Name, (string)text),
        });

    /// <summary>The global heap with the references to all scales.</summary>
    private static byte[] Heap(ReadOnlySpan<ulong> scales)
    {
        HdfBytes heap = new HdfBytes().Text("GCOL").U8(1, 0, 0, 0).U64(HeapBytes);
        for (int i = 0; i < scales.Length; i++)
            heap.U16(i + 1, 1).U32(0).U64(8, scales[i]);
        heap.U16(0, 0).U32(0).U64((ulong)(HeapBytes - heap.Length));
        return heap.Zeros(HeapBytes - heap.Length).ToArray();
    }

    /// <summary>A column as HDF5 keeps it.</summary>
    /// <param name="Dimensions">Their numbers.</param>
    private sealed record Stored(string Name, IReadOnlyList<int> Dimensions, IReadOnlyList<ulong> Shape, byte[] Type, byte[] Bytes,
        IReadOnlyList<(string Name, object Value)> Attributes)
    {
        /// <param name="dimensions">Gets one more for a column of texts.</param>
        public static Stored Of(NetCdfColumn column, List<(string Name, int Length)> dimensions)
        {
            List<int> own = [.. column.Dimensions.Select(name => dimensions.FindIndex(d => d.Name == name))];
            long cells = own.Aggregate(1L, (product, d) => product * dimensions[d].Length);
            ArgumentOutOfRangeException.ThrowIfNotEqual(column.Values.LongLength, cells, column.Name);
            (byte[] type, byte[] bytes) = column.Values switch
            {
                double[] numbers => (HdfType.Float64, MemoryMarshal.AsBytes<double>(numbers).ToArray()),
                int[] numbers => (HdfType.Int32, MemoryMarshal.AsBytes<int>(numbers).ToArray()),
                sbyte[] flags => (HdfType.Int8, MemoryMarshal.AsBytes<sbyte>(flags).ToArray()),
                string[] texts => (HdfType.Ascii(1), Letters(texts)),
                _ => throw new ArgumentException($"A column holds {column.Values.GetType().Name}.", nameof(column)),
            };
            IReadOnlyList<(string Name, object Value)> attributes = column.Attributes;
            if (column.Values is string[] { Length: > 0 })
            {
                own.Add(dimensions.Count);
                dimensions.Add((column.Name + "_letters", (int)(bytes.Length / cells)));
                attributes = [.. attributes, ("_Encoding", "utf-8")];
            }

            return new Stored(column.Name, own, [.. own.Select(d => (ulong)dimensions[d].Length)], type, bytes, attributes);
        }

        private static byte[] Letters(string[] texts)
        {
            int width = Math.Max(1, texts.Max(text => (int?)Encoding.UTF8.GetByteCount(text)) ?? 1);
            byte[] letters = new byte[texts.Length * width];
            for (int i = 0; i < texts.Length; i++)
                Encoding.UTF8.GetBytes(texts[i], letters.AsSpan(i * width, width));
            return letters;
        }
    }
}
