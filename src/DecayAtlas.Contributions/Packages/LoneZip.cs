namespace DecayAtlas.Contributions.Packages;

/// <summary>A folder that holds a zip and nothing else is that zip, put into a folder by whoever received it.</summary>
internal static class LoneZip
{
    /// <summary>The zip of such a folder; any other path itself.</summary>
    public static string In(string path)
    {
        try
        {
            FileSystemInfo[] items = !Directory.Exists(path) ? []
                : [.. new DirectoryInfo(path).EnumerateFileSystemInfos().Where(item => !Package.IsLeftover(item.Name)).Take(2)];
            return items is [FileInfo { LinkTarget: null } only] && only.Name.EndsWith(".zip", StringComparison.OrdinalIgnoreCase)
                && FolderListing.HostileName(only.Name) is null ? Path.Combine(path, only.Name) : path;
        }
        catch (Exception fault) when (StorageFault.Is(fault))
        {
            return path;   // told by whoever lists it
        }
    }
}
