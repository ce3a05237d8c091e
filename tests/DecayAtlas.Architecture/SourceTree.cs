namespace DecayAtlas.Architecture;

/// <summary>The sources as they lie on the disk.</summary>
internal static class SourceTree
{
    public static string Root { get; } = Find(new DirectoryInfo(AppContext.BaseDirectory));

    /// <summary>The C# files below a folder of the top, by their paths from there, with forward slashes.</summary>
    public static IEnumerable<string> FilesOf(string folder) =>
        from path in Directory.EnumerateFiles(Path.Combine(Root, folder), "*.cs", SearchOption.AllDirectories)
        let file = Path.GetRelativePath(Root, path).Replace('\\', '/')
        where !file.Contains("/bin/", StringComparison.Ordinal) && !file.Contains("/obj/", StringComparison.Ordinal)
        orderby file
        select file;

    public static string[] LinesOf(string file) => File.ReadAllLines(Path.Combine(Root, file));

    public static byte[] BytesOf(string file) => File.ReadAllBytes(Path.Combine(Root, file));

    private static string Find(DirectoryInfo folder) =>
        File.Exists(Path.Combine(folder.FullName, "DecayAtlas.sln")) ? folder.FullName : Find(folder.Parent!);
}
