using System.Security.Cryptography;

namespace DecayAtlas.Pipeline.Cache;

/// <summary>A look into a file that costs little however large it is: its head, its tail, and blocks spread evenly between them.</summary>
internal static class ContentProbe
{
    private const int EndBytes = 64 * 1024;
    private const int BlockBytes = 4096;
    private const int Blocks = 64;

    /// <summary>SHA-256 of the probed bytes, in lower-case hexadecimal; of the whole of a small file.</summary>
    /// <exception cref="GridException">The file can't be read.</exception>
    public static string Of(string path)
    {
        try
        {
            using FileStream file = File.OpenRead(path);
            using IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
            byte[] buffer = new byte[EndBytes];
            long inner = file.Length - 2 * EndBytes;
            Append(0, (int)Math.Min(EndBytes, file.Length));
            for (int i = 0; i < Blocks && inner > 0; i++)
                Append(EndBytes + (long)((double)i / Blocks * Math.Max(0, inner - BlockBytes)), (int)Math.Min(BlockBytes, inner));
            if (file.Length > EndBytes)
                Append(Math.Max(EndBytes, file.Length - EndBytes), (int)Math.Min(EndBytes, file.Length - EndBytes));
            return Convert.ToHexStringLower(hash.GetHashAndReset());

            void Append(long at, int count)
            {
                file.Position = at;
                int read = file.ReadAtLeast(buffer.AsSpan(0, count), count, throwOnEndOfStream: false);
                hash.AppendData(buffer.AsSpan(0, read));
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new GridException($"{path} cannot be read: {e.Message.TrimEnd('.')}.", e);
        }
    }
}
