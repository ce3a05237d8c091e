namespace DecayAtlas.Grids.Formats.NetCdf.Writing;

/// <summary>Where the chunks of a dataset of two dimensions lie: a B-tree of HDF5, version 1, node type 1.</summary>
internal sealed class HdfChunkTree(uint chunkRows, uint chunkColumns)
{
    private const int MostChildren = 64; // twice the default rank of a file that states none
    private const int KeyBytes = 32;
    private const int NodeBytes = 24 + MostChildren * (KeyBytes + 8) + KeyBytes;

    private readonly SortedList<(int Row, int Column), (ulong Address, uint Bytes)> _chunks = [];

    public void Add(int row, int column, ulong address, int bytes) => _chunks.Add((row, column), (address, (uint)bytes));

    /// <summary>The nodes, to be written at <paramref name="at"/>, and the address of the root; no nodes where there are no
    /// chunks.</summary>
    public (byte[] Nodes, ulong Root) Build(ulong at)
    {
        if (_chunks.Count == 0)
            return ([], HdfBytes.Undefined);

        HdfBytes nodes = new();
        byte[] end = Key(0, _chunks.Keys[^1].Row + 1, 0);
        List<(byte[] Key, ulong Address)> children = [
            .. _chunks.Select(c => (Key(c.Value.Bytes, c.Key.Row, c.Key.Column), c.Value.Address))];
        for (byte level = 0; ; level++)
        {
            int count = (children.Count + MostChildren - 1) / MostChildren;
            ulong first = at + (ulong)nodes.Length;
            List<(byte[] Key, ulong Address)> parents = [];
            for (int n = 0; n < count; n++)
            {
                (byte[] Key, ulong Address)[] own = [.. children.Skip(n * MostChildren).Take(MostChildren)];
                HdfBytes node = new HdfBytes().Text("TREE").U8(1, level).U16(own.Length)
                    .U64(n == 0 ? HdfBytes.Undefined : first + (ulong)(n - 1) * NodeBytes, n == count - 1 ? HdfBytes.Undefined
                        : first + (ulong)(n + 1) * NodeBytes);
                foreach ((byte[] key, ulong address) in own)
                    node.U8(key).U64(address);

                node.U8(n == count - 1 ? end : children[(n + 1) * MostChildren].Key);
                nodes.U8(node.ToArray()).Zeros(NodeBytes - node.Length);
                parents.Add((own[0].Key, first + (ulong)n * NodeBytes));
            }

            if (count == 1)
                return (nodes.ToArray(), first);

            children = parents;
        }
    }

    private byte[] Key(uint bytes, int row, int column) =>
        new HdfBytes().U32(bytes, 0).U64((ulong)row * chunkRows, (ulong)column * chunkColumns, 0).ToArray();
}
