namespace DecayAtlas.Contributions.Packages;

/// <summary>Lists a received folder without following links out of it.</summary>
internal static class FolderListing
{
    public static Package List(string folder, ReceivedFiles received, FindingList findings)
    {
        List<PackageFile> files = [];
        Stack<DirectoryInfo> open = new([new DirectoryInfo(folder)]);
        while (open.TryPop(out DirectoryInfo? current))
        {
            foreach (FileSystemInfo item in Items(folder, current, findings))
            {
                string relative = Relative(folder, item);
                if (item.LinkTarget is not null)
                {
                    findings.Add(FindingCode.LinkNotAllowed, relative, "a link to another place", "a plain file or folder",
                        "put the file itself into the contribution instead of a link to it");
                    continue;
                }
                if (HostileName(relative) is { } hostile)
                    findings.Add(hostile);
                else if (item is DirectoryInfo directory)
                    open.Push(directory);
                else if (!Package.IsLeftover(relative))
                    files.Add(received.Add(relative, (FileInfo)item));
            }
        }
        files.Sort((a, b) => string.CompareOrdinal(a.Path, b.Path));
        return new Package(folder, files, null);
    }

    /// <summary>A line break, an escape or a turn of direction in a name could forge a line of a list or a report.</summary>
    public static Finding? HostileName(string path) => !path.Any(ReceivedText.IsHostile) ? null
        : new Finding(FindingCode.PathUnsafe, FindingText.Plain(path),
            "a name that holds a control character or a mark that turns the direction of writing", "plain names",
            "give the file another name");

    private static FileSystemInfo[] Items(string folder, DirectoryInfo directory, FindingList findings)
    {
        try
        {
            return [.. directory.EnumerateFileSystemInfos()];
        }
        catch (Exception fault) when (StorageFault.Is(fault))
        {
            findings.Add(Unreadable(Relative(folder, directory)));
            return [];
        }
    }

    public static Finding Unreadable(string path) => new(FindingCode.FileUnreadable, path, "something that cannot be opened",
        "a file or folder that may be read", "give the reading user the right to open it");

    private static string Relative(string folder, FileSystemInfo item) =>
        Path.GetRelativePath(folder, item.FullName).Replace(Path.DirectorySeparatorChar, '/');
}
