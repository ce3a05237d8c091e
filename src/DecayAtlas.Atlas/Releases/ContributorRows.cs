using System.Security.Cryptography;
using System.Text;

namespace DecayAtlas.Atlas.Releases;

/// <summary>
/// All released rows of one contributor, sorted by the file of the release that they belong to. They can be kept on disk, so that
/// a part can be put together again without computing anything anew.
/// </summary>
public sealed class ContributorRows
{
    private const int FormatVersion = 1;
    private readonly SortedDictionary<string, RowRun> _runs;

    private ContributorRows(SortedDictionary<string, RowRun> runs) => _runs = runs;

    public static ContributorRows Of(string contributorId, ReleaseTables tables)
    {
        var runs = new SortedDictionary<string, RowRun>(StringComparer.Ordinal);
        foreach ((string file, RowRun run) in TableFeed.All.SelectMany(feed => feed.RunsOf(contributorId, tables)))
            runs[file] = run;
        return new ContributorRows(runs);
    }

    /// <summary>Rows a file, files in ordinal order.</summary>
    public IEnumerable<KeyValuePair<string, int>> RowsByFile => _runs.Select(run => KeyValuePair.Create(run.Key, run.Value.Count));

    internal RowRun RunOf(string file) => _runs[file];

    /// <summary>The rows as bytes, behind their own SHA-256.</summary>
    public byte[] ToBytes()
    {
        using var stream = new MemoryStream();
        stream.Write(new byte[SHA256.HashSizeInBytes]);
        using (var writer = new BinaryWriter(stream, Encoding.UTF8, leaveOpen: true))
        {
            writer.Write(FormatVersion);
            writer.Write(_runs.Count);
            foreach ((string file, RowRun run) in _runs)
            {
                writer.Write(file);
                run.Save(writer);
            }
        }

        byte[] bytes = stream.ToArray();
        SHA256.HashData(bytes.AsSpan(SHA256.HashSizeInBytes), bytes);
        return bytes;
    }

    /// <summary>Reads what <see cref="ToBytes"/> made; <see langword="null"/> where the bytes are not whole or of another version.</summary>
    public static ContributorRows? FromBytes(byte[] bytes)
    {
        const int start = SHA256.HashSizeInBytes;
        if (bytes.Length < start + sizeof(int) || !SHA256.HashData(bytes.AsSpan(start)).AsSpan().SequenceEqual(bytes.AsSpan(0, start)))
            return null;

        using var reader = new BinaryReader(new MemoryStream(bytes, start, bytes.Length - start), Encoding.UTF8);
        if (reader.ReadInt32() != FormatVersion)
            return null;
        var runs = new SortedDictionary<string, RowRun>(StringComparer.Ordinal);
        for (int left = reader.ReadInt32(); left > 0; left--)
        {
            string file = reader.ReadString();
            runs[file] = TableFeed.OfFile(file).Load(reader);
        }

        return new ContributorRows(runs);
    }
}
