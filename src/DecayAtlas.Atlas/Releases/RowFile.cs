using System.Security.Cryptography;
using System.Text;

namespace DecayAtlas.Atlas.Releases;

/// <summary>
/// The rows of one contributor on disk, so that a part can be put together again without computing anything anew. Each run
/// stands behind its own SHA-256 and is found by an index at the front, so that one run is read without the others.
/// </summary>
/// <remarks>Layout: version; length of the index; index (file, offset, length, SHA-256 of the run; then SHA-256 of the index); runs.</remarks>
public static class RowFile
{
    private const int FormatVersion = 2;

    public static void Write(Stream stream, ContributorRows rows)
    {
        var runs = rows.Runs.Select(run => (run.Key, Bytes: BytesOf(run.Value))).ToArray();
        byte[] index = BytesOf(writer =>
        {
            long offset = 0;
            writer.Write(runs.Length);
            foreach ((string file, byte[] bytes) in runs)
            {
                writer.Write(file);
                writer.Write(offset);
                writer.Write(bytes.Length);
                writer.Write(SHA256.HashData(bytes));
                offset += bytes.Length;
            }
        });

        using var head = new BinaryWriter(stream, Encoding.UTF8, leaveOpen: true);
        head.Write(FormatVersion);
        head.Write(index.Length);
        head.Write(index);
        head.Write(SHA256.HashData(index));
        foreach ((_, byte[] bytes) in runs)
            head.Write(bytes);
    }

    /// <summary>Reads the run that goes to one file of a release; <see langword="null"/> where the bytes are not whole, not of this version, or hold no such run.</summary>
    public static RowRun? Read(Stream stream, string file)
    {
        try
        {
            using var head = new BinaryReader(stream, Encoding.UTF8, leaveOpen: true);
            if (head.ReadInt32() != FormatVersion)
                return null;
            int length = head.ReadInt32();
            if (length <= 0 || length > stream.Length)
                return null;
            byte[] index = head.ReadBytes(length);
            if (!Matches(index, head.ReadBytes(SHA256.HashSizeInBytes)))
                return null;

            long start = stream.Position;
            using var entries = new BinaryReader(new MemoryStream(index), Encoding.UTF8);
            for (int left = entries.ReadInt32(); left > 0; left--)
            {
                string name = entries.ReadString();
                long offset = entries.ReadInt64();
                int bytes = entries.ReadInt32();
                byte[] sha256 = entries.ReadBytes(SHA256.HashSizeInBytes);
                if (name != file)
                    continue;
                stream.Position = start + offset;
                byte[] run = head.ReadBytes(bytes);
                return Matches(run, sha256) ? AtlasTables.OfFile(file).Load(new BinaryReader(new MemoryStream(run), Encoding.UTF8)) : null;
            }

            return null;
        }
        catch (EndOfStreamException)
        {
            return null;   // cut off
        }
    }

    private static bool Matches(byte[] bytes, byte[] sha256) => SHA256.HashData(bytes).AsSpan().SequenceEqual(sha256);

    private static byte[] BytesOf(RowRun run) => BytesOf(run.Save);

    private static byte[] BytesOf(Action<BinaryWriter> write)
    {
        using var stream = new MemoryStream();
        using (var writer = new BinaryWriter(stream, Encoding.UTF8, leaveOpen: true))
            write(writer);
        return stream.ToArray();
    }
}
