namespace DecayAtlas.Grids.Formats;

/// <summary>A path whose file name stands for many files: * for any letters, ? for one.</summary>
internal static class TilePattern
{
    private const int MaxTiles = 100_000;

    public static bool Is(string path) => Path.GetFileName(path).AsSpan().ContainsAny('*', '?');

    /// <exception cref="GridException">There is none, or there are too many.</exception>
    public static IReadOnlyList<string> Expand(string path)
    {
        string folder = Path.GetDirectoryName(Path.GetFullPath(path))!;
        string[] found = Directory.Exists(folder)
            ? [.. Directory.EnumerateFiles(folder, Path.GetFileName(path)).Take(MaxTiles + 1).Order(StringComparer.Ordinal)]
            : [];
        return found.Length is > 0 and <= MaxTiles
            ? found
            : throw new GridException(
                $"{path} names {(found.Length == 0 ? "no file" : $"more than {MaxTiles} files")}; the tiles of one grid were expected.");
    }
}
