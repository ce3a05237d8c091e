using System.Buffers;
using PureHDF;
using PureHDF.Selections;
using PureHDF.VOL.Native;

namespace DecayAtlas.Grids.Formats.Cdf;

/// <summary>NetCDF-4: an HDF5 file whose dimension scales are the dimensions. The variables of the root group are read.</summary>
internal sealed class HdfFile : CdfFile
{
    private const long MaxChunkBytes = 128L << 20;

    /// <summary>Most bytes of an attribute; longer ones are passed over.</summary>
    private const long MaxAttributeBytes = 1L << 20;

    private const ulong ChunkCacheBytes = 32UL << 20;

    private readonly NativeFile _file;
    private readonly Dictionary<string, (NativeDataset Dataset, H5DatasetAccess Access)> _datasets = [];

    private HdfFile(string path)
        : base(path)
    {
        _file = H5File.OpenRead(path);
    }

    public static bool Recognises(ReadOnlySpan<byte> head) => head.Length >= 8 && head[0] == 0x89
        && head[1..8].SequenceEqual("HDF\r\n\u001a\n"u8);

    public static HdfFile Open(string path) => Guard(path, "its header", () =>
    {
        HdfFile file = new(path);
        try
        {
            file.ReadHeader();
            return file;
        }
        catch
        {
            file.Dispose();
            throw;
        }
    });

    public override void Dispose() => _file.Dispose();

    public override void Read(CdfVariable variable, ReadOnlySpan<long> start, ReadOnlySpan<long> count, Span<double> values)
    {
        (NativeDataset dataset, H5DatasetAccess access) = _datasets[variable.Name];
        ulong[] starts = [.. start.ToArray().Select(s => (ulong)s)];
        ulong[] blocks = [.. count.ToArray().Select(c => (ulong)c)];
        RequireSmallChunks(variable);
        int size = values.Length;
        double[] read = Guard(Path, $"variable {variable.Name}", () =>
        {
            Selection? selection = starts.Length == 0 ? null : new HyperslabSelection(starts.Length, starts, blocks);
            return HdfNumbers.Of(variable.Type).Read(dataset, access, selection, size);
        });
        read.AsSpan(0, size).CopyTo(values);
        ArrayPool<double>.Shared.Return(read);
    }

    public override IReadOnlyList<long>? ChunksOf(CdfVariable variable) => Guard(Path, $"the layout of variable {variable.Name}", () =>
        _datasets[variable.Name].Dataset.Layout is { Class: H5DataLayoutClass.Chunked, Chunks: { } chunks }
        ? (IReadOnlyList<long>)[.. chunks.Select(c => (long)c)] : null);

    // A chunk is unpacked whole: what it claims is held against a limit before memory is taken for it.
    private void RequireSmallChunks(CdfVariable variable)
    {
        decimal bytes = (ChunksOf(variable) ?? []).Aggregate((decimal)variable.Type.Bytes, (product, length) => product * length);
        if (bytes > MaxChunkBytes)
        {
            throw new GridException(
                $"{Path}: variable {variable.Name} is stored in chunks of {bytes} bytes, and this version reads up to {MaxChunkBytes}; "
                + "rewrite it in smaller ones, for example with nccopy -c, or fetch the file again.");
        }
    }

    private void ReadHeader()
    {
        List<CdfVariable> variables = [];
        foreach (NativeDataset dataset in _file.Children().OfType<NativeDataset>())
        {
            Dictionary<string, CdfAttribute> attributes = AttributesOf(dataset);
            if (TypeOf(dataset.Type) is not { } type
                || (attributes.TryGetValue("NAME", out CdfAttribute? name)
                    && name.Text?.StartsWith("This is a netCDF dimension but not a netCDF variable", StringComparison.Ordinal) == true))
            {
                continue;
            }

            _datasets[dataset.Name] = (dataset, new H5DatasetAccess(ChunkCache: new SimpleReadingChunkCache(521, ChunkCacheBytes)));
            variables.Add(new CdfVariable(dataset.Name, DimensionsOf(dataset, attributes), type, attributes));
        }

        Variables = variables;
    }

    private CdfDimension[] DimensionsOf(NativeDataset dataset, Dictionary<string, CdfAttribute> attributes)
    {
        ulong[] lengths = dataset.Space.Dimensions;
        if (lengths.Any(length => length > int.MaxValue))
            throw Damaged($"variable {dataset.Name} claims {string.Join(" x ", lengths)} values");

        if (dataset.AttributeExists("DIMENSION_LIST"))
        {
            NativeObjectReference1[][] scales = dataset.Attribute("DIMENSION_LIST").Read<NativeObjectReference1[][]>();
            if (scales.Length == lengths.Length && scales.All(s => s.Length > 0))
                return [.. lengths.Select((length, d) => new CdfDimension(_file.Get(scales[d][0]).Name, (long)length))];
        }

        // A coordinate variable is the scale of its own dimension.
        bool isScale = attributes.TryGetValue("CLASS", out CdfAttribute? kind) && kind.Text == "DIMENSION_SCALE";
        return [.. lengths.Select((length, d) => new CdfDimension(isScale && d == 0 ? dataset.Name : $"{dataset.Name}_{d}", (long)length))];
    }

    private static CdfType? TypeOf(IH5DataType type) => type.Class switch
    {
        H5DataTypeClass.FixedPoint when type.Size is 1 or 2 or 4 or 8 => new CdfType(type.Size, false, type.FixedPoint.IsSigned),
        H5DataTypeClass.FloatingPoint when type.Size is 4 or 8 => new CdfType(type.Size, true, true),
        H5DataTypeClass.String => new CdfType(1, false, false, IsText: true),
        _ => null,
    };

    private static Dictionary<string, CdfAttribute> AttributesOf(NativeDataset dataset)
    {
        Dictionary<string, CdfAttribute> attributes = [];
        foreach (IH5Attribute attribute in dataset.Attributes())
        {
            bool single = attribute.Space.Rank == 0;
            long count = single ? 1 : attribute.Space.Dimensions.Aggregate(1L, (a, b) => (long)Math.Min(1UL << 40, (ulong)a * b));
            if (count > 1 << 16 || count * Math.Max(1L, attribute.Type.Size) > MaxAttributeBytes)
                continue;

            if (attribute.Type.Class is H5DataTypeClass.String
                || (attribute.Type.Class is H5DataTypeClass.VariableLength && attribute.Name is not ("DIMENSION_LIST" or "REFERENCE_LIST")))
            {
                attributes[attribute.Name] = new CdfAttribute(
                    single ? attribute.Read<string>() : string.Join(' ', attribute.Read<string[]>()), []);
            }
            else if (TypeOf(attribute.Type) is { IsText: false } type)
            {
                attributes[attribute.Name] = new CdfAttribute(null, HdfNumbers.Of(type).Read(attribute, single));
            }
        }

        return attributes;
    }

    // The library answers damage with errors of many kinds; a length that lies ends in an array too long to be made, which
    // is an out-of-memory error without memory being short.
    private static T Guard<T>(string path, string what, Func<T> read)
    {
        try
        {
            return read();
        }
        catch (Exception e) when (e is not GridException)
        {
            string why = e.Message.Split('\n')[0].Trim().TrimEnd('.');
            throw new GridException($"{path}: {what} cannot be read ({why}); the file is damaged, or stored in a way of HDF5 that this "
                + "version does not know.", e);
        }
    }
}
