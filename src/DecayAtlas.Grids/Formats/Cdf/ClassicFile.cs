using System.Buffers.Binary;
using System.Text;

namespace DecayAtlas.Grids.Formats.Cdf;

/// <summary>
/// NetCDF-3: classic (CDF-1), 64-bit offset (CDF-2) and 64-bit data (CDF-5), after "The NetCDF Classic Format Specification"
/// of Unidata (OGC 10-092r3). Every count is held against the bytes the file has before memory is taken for it.
/// </summary>
internal sealed class ClassicFile : CdfFile
{
    private readonly FileStream _stream;
    private readonly Dictionary<string, (long Begin, bool IsRecord)> _places = [];
    private readonly int _version;
    private long _records;
    private long _recordBytes;

    private ClassicFile(string path, FileStream stream)
        : base(path)
    {
        _stream = stream;
        Bytes(3);
        _version = Bytes(1)[0];
    }

    public static bool Recognises(ReadOnlySpan<byte> head) => head.Length >= 4 && head[..3].SequenceEqual("CDF"u8)
        && head[3] is 1 or 2 or 5;

    public static ClassicFile Open(string path)
    {
        FileStream stream = File.OpenRead(path);
        try
        {
            ClassicFile file = new(path, stream);
            file.ReadHeader();
            return file;
        }
        catch
        {
            stream.Dispose();
            throw;
        }
    }

    public override void Dispose() => _stream.Dispose();

    public override void Read(CdfVariable variable, ReadOnlySpan<long> start, ReadOnlySpan<long> count, Span<double> values)
    {
        (long begin, bool isRecord) = _places[variable.Name];
        int rank = variable.Dimensions.Count;
        if (rank == 0)
        {
            ClassicNumbers.Decode(variable.Type, At(begin, variable.Type.Bytes), values[..1]);
            return;
        }

        long[] strides = new long[rank];
        long stride = variable.Type.Bytes;
        for (int d = rank - 1; d >= 0; d--)
        {
            strides[d] = d == 0 && isRecord ? _recordBytes : stride;
            stride *= variable.Dimensions[d].Length;
        }

        // One run of the fastest dimension at a time; a record variable of one dimension has no runs.
        bool hasRun = rank > 1 || !isRecord;
        int run = hasRun ? (int)count[rank - 1] : 1;
        long[] at = [.. start];
        for (int done = 0; done < values.Length && run > 0; done += run)
        {
            long offset = begin;
            for (int d = 0; d < rank; d++)
                offset += at[d] * strides[d];

            ClassicNumbers.Decode(variable.Type, At(offset, run * variable.Type.Bytes), values.Slice(done, run));
            for (int d = hasRun ? rank - 2 : rank - 1; d >= 0 && ++at[d] == start[d] + count[d]; d--)
                at[d] = start[d];
        }
    }

    private void ReadHeader()
    {
        long records = Count();
        List<CdfDimension> dimensions = [];
        int recordDimension = -1;
        for (long n = ListLength(10, 8); n > 0; n--)
        {
            string name = Name();
            long length = Count();
            recordDimension = length == 0 ? dimensions.Count : recordDimension;
            dimensions.Add(new CdfDimension(name, length));
        }

        Attributes();
        List<Stored> found = [];
        for (long n = ListLength(11, 16); n > 0; n--)
        {
            string name = Name();
            long rank = Count();
            int[] ids = new int[Bounded(rank, 4, 1024)];
            for (int i = 0; i < ids.Length; i++)
            {
                long id = Count();
                ids[i] = id < dimensions.Count ? (int)id : throw Damaged($"variable {name} names dimension {id}, which it has not");
            }

            Dictionary<string, CdfAttribute> attributes = Attributes();
            CdfType type = Type();
            Count(); // the size, which is not to be trusted above 4 GB, follows from the dimensions
            long begin = _version == 1 ? BinaryPrimitives.ReadUInt32BigEndian(Bytes(4)) : BinaryPrimitives.ReadInt64BigEndian(Bytes(8));
            found.Add(new Stored(name, ids, type, attributes, begin));
        }

        Lay(found, dimensions, recordDimension, records);
    }

    private void Lay(List<Stored> found, List<CdfDimension> dimensions, int recordDimension, long records)
    {
        bool IsRecord(Stored variable) => variable.Dimensions.Length > 0 && variable.Dimensions[0] == recordDimension;
        Stored[] ofRecords = [.. found.Where(IsRecord)];
        decimal[] recordSizes = [.. ofRecords
            .Select(v => v.Dimensions.Skip(1).Aggregate((decimal)v.Type.Bytes, (size, id) => size * dimensions[id].Length))];
        // Records are padded to four bytes, but not where there is one record variable alone.
        decimal recordBytes = recordSizes is [decimal only] ? only : recordSizes.Sum(size => Math.Ceiling(size / 4) * 4);
        if (recordBytes > _stream.Length)
            throw Damaged($"a record takes {recordBytes} bytes, and the file has {_stream.Length}");

        _recordBytes = (long)recordBytes;
        long firstRecord = ofRecords.Select(v => v.Begin).DefaultIfEmpty(0).Min();
        long fitting = _recordBytes == 0 ? 0 : Math.Max(0, (_stream.Length - firstRecord + 3) / _recordBytes);
        // A file that is being written leaves the number open; one that is cut off claims more than it has.
        _records = records == uint.MaxValue || records < 0 ? fitting : records;
        if (_records > fitting)
            throw Damaged($"it claims {_records} records and has bytes for {fitting}");

        List<CdfVariable> variables = [];
        foreach (Stored variable in found)
        {
            (string name, int[] ids, CdfType type, Dictionary<string, CdfAttribute> attributes, long begin) = variable;
            bool isRecord = IsRecord(variable);
            CdfDimension[] own = [.. ids.Select(id => id == recordDimension ? dimensions[id] with { Length = _records } : dimensions[id])];
            decimal fixedBytes = own.Skip(isRecord ? 1 : 0).Aggregate((decimal)type.Bytes, (size, d) => size * d.Length);
            if (begin < 0 || begin + fixedBytes > _stream.Length + 3 || ids.Skip(1).Contains(recordDimension))
                throw Damaged($"variable {name} would reach beyond the {_stream.Length} bytes of the file");

            if (_places.TryAdd(name, (begin, isRecord)))
                variables.Add(new CdfVariable(name, own, type, attributes));
        }

        Variables = variables;
    }

    private Dictionary<string, CdfAttribute> Attributes()
    {
        Dictionary<string, CdfAttribute> attributes = [];
        for (long n = ListLength(12, 12); n > 0; n--)
        {
            string name = Name();
            CdfType type = Type();
            int count = Bounded(Count(), type.Bytes, int.MaxValue / 8);
            byte[] bytes = Bytes(count * type.Bytes);
            Skip(bytes.Length);
            double[] numbers = type.IsText ? [] : new double[count];
            ClassicNumbers.Decode(type, bytes, numbers);
            attributes[name] = new CdfAttribute(type.IsText ? Encoding.UTF8.GetString(bytes).TrimEnd('\0') : null, numbers);
        }

        return attributes;
    }

    private long ListLength(int tag, int leastBytes)
    {
        int found = BinaryPrimitives.ReadInt32BigEndian(Bytes(4));
        long count = Count();
        if (found == 0 && count == 0)
            return 0;

        return found == tag ? Bounded(count, leastBytes, 1 << 20)
            : throw Damaged($"its header holds mark {found} where {tag} was expected");
    }

    private string Name()
    {
        byte[] bytes = Bytes(Bounded(Count(), 1, 4096));
        Skip(bytes.Length);
        return Encoding.UTF8.GetString(bytes);
    }

    private CdfType Type()
    {
        int type = BinaryPrimitives.ReadInt32BigEndian(Bytes(4));
        return ClassicNumbers.TypeOf(type) ?? throw Damaged($"it stores numbers of kind {type}, which the format has not");
    }

    private long Count() => _version == 5 ? BinaryPrimitives.ReadInt64BigEndian(Bytes(8)) : BinaryPrimitives.ReadUInt32BigEndian(Bytes(4));

    private int Bounded(long count, int bytesEach, int most) => count >= 0 && count <= most
        && count <= (_stream.Length - _stream.Position) / bytesEach
        ? (int)count
        : throw Damaged($"its header claims {count} items where the file has {_stream.Length - _stream.Position} bytes left");

    // Names and attributes are padded to four bytes.
    private void Skip(int length) => _stream.Position += (4 - length % 4) % 4;

    private byte[] Bytes(int length) => At(_stream.Position, length);

    private byte[] At(long offset, int length)
    {
        byte[] bytes = new byte[length];
        try
        {
            _stream.Position = offset;
            _stream.ReadExactly(bytes);
        }
        catch (Exception e) when (e is IOException or ArgumentOutOfRangeException)
        {
            throw Damaged($"it ends after {_stream.Length} bytes, before byte {offset + length}", e);
        }

        return bytes;
    }

    private sealed record Stored(string Name, int[] Dimensions, CdfType Type, Dictionary<string, CdfAttribute> Attributes, long Begin);
}
