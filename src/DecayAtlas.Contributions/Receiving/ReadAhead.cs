namespace DecayAtlas.Contributions.Receiving;

/// <summary>
/// How many contributions are read side by side. Their rows are in memory until it is decided where they go, so that their bytes are
/// counted, not only their number; one that is larger than all that may be read at once is read alone.
/// </summary>
internal static class ReadAhead
{
    /// <summary>Bytes of tables at a time; as rows in memory they take some four times as much.</summary>
    public const long MostBytes = ReceivedFiles.MostBytes;

    // How often tables of weighings are as large as their zip, with room to spare; what a zip says of itself is not believed.
    private const int Unpacked = 10;

    private static readonly int Most = 2 * Environment.ProcessorCount;

    public static IEnumerable<string[]> Batches(IEnumerable<string> received) => Batches(received, BytesOf, MostBytes);

    internal static IEnumerable<string[]> Batches(IEnumerable<string> received, Func<string, long> bytesOf, long mostBytes)
    {
        List<string> batch = [];
        long bytes = 0;
        foreach (string path in received)
        {
            long own = bytesOf(path);
            if (batch.Count == Most || batch.Count > 0 && bytes + own > mostBytes)
            {
                yield return [.. batch];
                batch.Clear();
                bytes = 0;
            }

            batch.Add(path);
            bytes += own;
        }

        if (batch.Count > 0)
            yield return [.. batch];
    }

    private static long BytesOf(string path)
    {
        try
        {
            FileInfo file = new(path);
            if (file.LinkTarget is not null)
                return 0;
            if (file.Exists)
                return file.Length * (file.Extension.ToUpperInvariant() is ".ZIP" or ".XLSX" ? Unpacked : 1);
            return new DirectoryInfo(path).EnumerateFiles("*",
                new EnumerationOptions { RecurseSubdirectories = true, AttributesToSkip = FileAttributes.ReparsePoint })
                    .Sum(inside => inside.Length);
        }
        catch (Exception fault) when (StorageFault.Is(fault))
        {
            return 0;   // told when it is read
        }
    }
}
