namespace DecayAtlas.Browser;

/// <summary>The files that somebody dropped on the page, in its memory.</summary>
internal static class DroppedFiles
{
    private const string Root = "/dropped", Answers = "/answers", MappingEnding = ".mapping.yaml";

    private static readonly List<string> Paths = [];

    /// <summary>As a person at a prompt beside the files would name the contribution.</summary>
    public static string Name => System.IO.Path.GetRelativePath(Root, Path);

    /// <summary>The one file, the table that has its mapping beside it, or else their folder.</summary>
    public static string Path
    {
        get
        {
            string[] top = [.. Paths.Select(path => path.Split('/')[0]).Distinct()];
            string[] tables = [.. top.Where(path => !path.EndsWith(MappingEnding, StringComparison.Ordinal))];
            bool isAlone = tables.Length == 1
                && (top.Length == 1 || (top.Length == 2 && top.Contains(MappingNameOf(tables[0]))));
            return isAlone ? System.IO.Path.Combine(Root, tables[0]) : Root;
        }
    }

    /// <summary>The mapping that was dropped with its table; null where there is none.</summary>
    public static string? MappingBeside => Paths.FindAll(path => path.EndsWith(MappingEnding, StringComparison.Ordinal)) is [var only]
        ? System.IO.Path.Combine(Root, only) : null;

    public static void Put(string path, byte[] bytes)
    {
        // a browser gives plain relative paths; what would lead out of the folder is a name and no path
        string inside = string.Join('/', path.Split('/').Where(part => part is not ("" or "." or "..")));
        string full = System.IO.Path.Combine(Root, inside);
        Directory.CreateDirectory(System.IO.Path.GetDirectoryName(full)!);
        File.WriteAllBytes(full, bytes);
        Paths.Add(inside);
    }

    public static void Clear()
    {
        Paths.Clear();
        if (Directory.Exists(Root))
            Directory.Delete(Root, recursive: true);
    }

    /// <summary>The file of a mapping that was made of answers, called as it will be beside its table; null where there is none.</summary>
    public static string? MappingOf(string? mapping)
    {
        if (string.IsNullOrEmpty(mapping))
            return null;
        Directory.CreateDirectory(Answers);
        string path = System.IO.Path.Combine(Answers, MappingNameOf(System.IO.Path.GetFileName(Path)));
        File.WriteAllText(path, mapping);
        return path;
    }

    private static string MappingNameOf(string table) => System.IO.Path.ChangeExtension(table, null) + MappingEnding;
}
