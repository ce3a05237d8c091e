namespace DecayAtlas.EndToEnd;

/// <summary>Where the project's own files lie, seen from wherever the tests run.</summary>
internal static class Project
{
    public static string Root { get; } = FindRoot();

    public static string PathOf(string relative) => Path.Combine(Root, relative);

    private static string FindRoot()
    {
        for (DirectoryInfo? folder = new(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "DecayAtlas.sln")))
                return folder.FullName;
        }

        throw new InvalidOperationException("DecayAtlas.sln was not found above the tests.");
    }
}
