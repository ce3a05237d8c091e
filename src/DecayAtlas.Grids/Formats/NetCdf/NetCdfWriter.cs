using System.Buffers;
using System.IO.Compression;
using System.Runtime.InteropServices;

namespace DecayAtlas.Grids.Formats.NetCdf;

/// <summary>
/// Writes grids to a NetCDF-4 file by the CF conventions 1.11, tile by tile: chunks of 256 x 256, shuffle and deflate, missing is
/// NaN, coordinates of the cell centres, and the reference system as a grid mapping. The same calls give the same bytes. The file
/// is complete once the writer is disposed; memory does not grow with it.
/// </summary>
/// <remarks>
/// NetCDF-4 is HDF5 with dimension scales. Why no library writes it is in DEVELOPERS.md; the few structures of HDF5 that a grid takes are
/// written here (HDF5 File Format Specification 3.0), and checked with ncdump, R terra and xarray.
/// </remarks>
public sealed class NetCdfWriter : IDisposable
{
    public const int TileSize = LatticeTile.Size;

    private const uint DeflateLevel = 1;
    private const int SuperblockBytes = 48;
    private const int HeapBytes = 4096;

    private readonly string _path;
    private readonly Projection _projection;
    private readonly GridLattice _lattice;
    private readonly IReadOnlyList<NetCdfVariable> _variables;
    private readonly IReadOnlyDictionary<string, string> _attributes;
    private readonly HdfChunkTree[] _chunks;
    private readonly FileStream _file;
    private bool _disposed;

    /// <summary>Starts the file, replacing one of that name.</summary>
    /// <param name="attributes">What the file says of itself, such as title, source and history.</param>
    /// <exception cref="GridException">The file cannot be written.</exception>
    public NetCdfWriter(
        string path, Projection projection, GridLattice lattice, IReadOnlyList<NetCdfVariable> variables,
        IReadOnlyDictionary<string, string> attributes)
    {
        ArgumentNullException.ThrowIfNull(path);
        ArgumentNullException.ThrowIfNull(projection);
        ArgumentNullException.ThrowIfNull(variables);
        ArgumentNullException.ThrowIfNull(attributes);
        _path = path;
        _projection = projection;
        _lattice = GeometryCheck.Checked(path, projection, lattice);
        _variables = variables;
        _attributes = attributes;
        _chunks = [.. variables.Select(_ => new HdfChunkTree(ChunkRows, ChunkColumns))];
        FileStream? file = null;
        Guarded(() => file = new FileStream(path, FileMode.Create, FileAccess.Write, FileShare.None, 1 << 16));
        _file = file!;
        _file.Write(new byte[SuperblockBytes]);
    }

    private uint ChunkRows => (uint)Math.Min(TileSize, _lattice.Rows);

    private uint ChunkColumns => (uint)Math.Min(TileSize, _lattice.Columns);

    /// <summary>Writes one tile of every variable; packs them on all cores.</summary>
    /// <param name="values">For each variable 256 x 256 values, row by row; NaN = missing; those beyond the edge are padding.</param>
    /// <exception cref="GridException">The disk refuses.</exception>
    public void WriteTiles(int tileColumn, int tileRow, IReadOnlyList<float[]> values)
    {
        ObjectDisposedException.ThrowIf(_disposed, this);
        ArgumentNullException.ThrowIfNull(values);
        ArgumentOutOfRangeException.ThrowIfNotEqual(values.Count, _variables.Count, nameof(values));
        byte[][] packed = new byte[values.Count][];
        Parallel.For(0, packed.Length, v => packed[v] = Pack(values[v], tileColumn, tileRow, _variables[v].IsFlag));
        for (int v = 0; v < packed.Length; v++)
        {
            _chunks[v].Add(tileRow, tileColumn, (ulong)_file.Position, packed[v].Length);
            Guarded(() => _file.Write(packed[v]));
        }
    }

    /// <summary>Completes the file.</summary>
    /// <exception cref="GridException">The disk refuses.</exception>
    public void Dispose()
    {
        if (_disposed)
            return;

        _disposed = true;
        using (_file)
            Guarded(Complete);
    }

    private byte[] Pack(float[] tile, int tileColumn, int tileRow, bool isFlag)
    {
        ArgumentOutOfRangeException.ThrowIfNotEqual(tile.Length, TileSize * TileSize, nameof(tile));
        int width = (int)ChunkColumns, height = (int)ChunkRows, count = width * height;
        int columns = Math.Min(TileSize, _lattice.Columns - tileColumn * TileSize),
            rows = Math.Min(TileSize, _lattice.Rows - tileRow * TileSize);
        int length = isFlag ? count : count * sizeof(float);
        byte[] bytes = ArrayPool<byte>.Shared.Rent(length);
        for (int i = 0; i < count; i++)
        {
            float value = i % width < columns && i / width < rows ? tile[i / width * TileSize + i % width] : float.NaN;
            if (isFlag)
            {
                bytes[i] = float.IsNaN(value) ? byte.MaxValue : value != 0 ? (byte)1 : (byte)0; // -1 where missing
                continue;
            }

            uint bits = BitConverter.SingleToUInt32Bits(float.IsNaN(value) ? float.NaN : value);
            // shuffle: the first bytes of all values, then the second ones, ...
            (bytes[i], bytes[count + i], bytes[2 * count + i], bytes[3 * count + i]) =
                ((byte)bits, (byte)(bits >> 8), (byte)(bits >> 16), (byte)(bits >> 24));
        }

        using MemoryStream packed = new();
        using (ZLibStream zlib = new(packed, CompressionLevel.Fastest, leaveOpen: true))
            zlib.Write(bytes, 0, length);

        ArrayPool<byte>.Shared.Return(bytes);

        return packed.ToArray();
    }

    /// <summary>Chunks are there; what says where and what they are goes behind them, and the superblock that points to it in
    /// front.</summary>
    private void Complete()
    {
        ulong[] trees = new ulong[_chunks.Length];
        for (int v = 0; v < trees.Length; v++)
        {
            (byte[] nodes, trees[v]) = _chunks[v].Build((ulong)_file.Position);
            _file.Write(nodes);
        }

        (string yName, string xName) = CfMapping.AxisNames(_projection);
        ulong y = (ulong)_file.Position;
        _file.Write(MemoryMarshal.AsBytes<double>(Centres(_lattice.Rows, _lattice.North, -_lattice.CellHeight)));
        ulong x = (ulong)_file.Position;
        _file.Write(MemoryMarshal.AsBytes<double>(Centres(_lattice.Columns, _lattice.West, _lattice.CellWidth)));
        ulong heap = (ulong)_file.Position, at = heap + HeapBytes;

        // y, x, grid mapping, variables: measured with no addresses first
        string[] names = [yName, xName, CfMapping.VariableName, .. _variables.Select(v => v.Name)];
        ulong[] addresses = new ulong[names.Length];
        byte[][] objects = Objects();
        for (int i = 0; i < objects.Length; i++)
        {
            addresses[i] = at;
            at += (ulong)objects[i].Length;
        }

        _file.Write(Heap(addresses[0], addresses[1]));
        foreach (byte[] one in Objects())
            _file.Write(one);

        HdfObject root = new HdfObject().Group(names.Length);
        for (int i = 0; i < names.Length; i++)
            root.Link(names[i], i, addresses[i]);

        _file.Write(Texts(root.Text("Conventions", "CF-1.11"), _attributes).ToArray());
        HdfBytes superblock = new HdfBytes().U8(0x89).Text("HDF\r\n").U8(0x1A).Text("\n").U8(2, 8, 8, 0)
            .U64(0, HdfBytes.Undefined, (ulong)_file.Position, at);
        superblock.U32(HdfChecksum.Of(superblock.ToArray()));
        _file.Position = 0;
        _file.Write(superblock.ToArray());

        byte[][] Objects() =>
        [
            CfMapping.Axis(_projection, isY: true).Dataspace((ulong)_lattice.Rows).Datatype(HdfType.Float64).Fill([])
                .Contiguous(y, (ulong)_lattice.Rows * 8).Scale(yName, 0)
                .Attribute("REFERENCE_LIST", HdfType.UseOfScale, Uses(0), (ulong)_variables.Count).ToArray(),
            CfMapping.Axis(_projection, isY: false).Dataspace((ulong)_lattice.Columns).Datatype(HdfType.Float64).Fill([])
                .Contiguous(x, (ulong)_lattice.Columns * 8).Scale(xName, 1)
                .Attribute("REFERENCE_LIST", HdfType.UseOfScale, Uses(1), (ulong)_variables.Count).ToArray(),
            CfMapping.Variable(_projection).Dataspace().Datatype(HdfType.Int32).Fill([0, 0, 0, 0]).Contiguous(HdfBytes.Undefined, 4)
                .ToArray(),
            .. _variables.Select((v, i) => VariableObject(v, trees[i], heap)),
        ];

        byte[] Uses(uint dimension)
        {
            HdfBytes uses = new();
            foreach (ulong address in addresses.Skip(3))
                uses.U64(address).U32(dimension, 0);

            return uses.ToArray();
        }
    }

    private byte[] VariableObject(NetCdfVariable variable, ulong tree, ulong heap)
    {
        uint size = variable.IsFlag ? 1u : 4u;
        byte[] type = variable.IsFlag ? HdfType.Int8 : HdfType.Float32;
        byte[] missing = variable.IsFlag ? [byte.MaxValue] : BitConverter.GetBytes(float.NaN);
        HdfObject header = new HdfObject().Dataspace((ulong)_lattice.Rows, (ulong)_lattice.Columns).Datatype(type).Fill(missing)
            .Chunked(tree, ChunkRows, ChunkColumns, size).ShuffledDeflate(size, DeflateLevel)
            // each dimension has one scale: the first and second object of the heap
            .Attribute("DIMENSION_LIST", HdfType.ReferenceList, new HdfBytes().U32(1).U64(heap).U32(1, 1).U64(heap).U32(2).ToArray(), 2)
            .Attribute("_FillValue", type, missing, 1)
            .Text("long_name", variable.LongName).Text("units", variable.Unit).Text("grid_mapping", CfMapping.VariableName);
        if (variable.IsFlag)
            header.Attribute("flag_values", type, [0, 1], 2).Text("flag_meanings", "no yes");

        return Texts(header, variable.Attributes ?? new Dictionary<string, string>()).ToArray();
    }

    private static HdfObject Texts(HdfObject owner, IReadOnlyDictionary<string, string> texts) =>
        texts.OrderBy(t => t.Key, StringComparer.Ordinal).Aggregate(owner, (o, text) => o.Text(text.Key, text.Value));

    private static double[] Centres(int count, double edge, double step) =>
        [.. Enumerable.Range(0, count).Select(i => edge + (i + 0.5) * step)];

    /// <summary>The global heap with the references to both scales.</summary>
    private static byte[] Heap(ulong y, ulong x)
    {
        HdfBytes heap = new HdfBytes().Text("GCOL").U8(1, 0, 0, 0).U64(HeapBytes)
            .U16(1, 1).U32(0).U64(8, y)
            .U16(2, 1).U32(0).U64(8, x);
        heap.U16(0, 0).U32(0).U64((ulong)(HeapBytes - heap.Length));
        return heap.Zeros(HeapBytes - heap.Length).ToArray();
    }

    private void Guarded(Action write)
    {
        try
        {
            write();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new GridException($"{_path} cannot be written: {e.Message.TrimEnd('.')}.", e);
        }
    }
}
