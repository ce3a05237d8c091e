namespace DecayAtlas.Atlas.Releases;

/// <summary>
/// The pages of a release: a folder in it that is no part of its digest, since pages follow what came later too (a model, a map, a
/// contribution that was set aside). The folder is made beside the releases and put in its place whole, with checksums of its own.
/// </summary>
public sealed class ReleasePages(AtlasFolder atlas, ReleaseName release)
{
    public const string FolderName = "pages";

    public string Folder => Path.Combine(atlas.FolderOf(release), FolderName);

    // which inputs the pages were made from is remembered, not published: another build of the same code makes the same pages
    private string Memory => Path.Combine(atlas.Cache, "pages.txt");

    /// <summary>Whether the pages are there and were made from the inputs that a key stands for.</summary>
    public bool AreMadeFrom(string key) =>
        File.Exists(Path.Combine(Folder, ReleaseWriter.ChecksumsName)) && File.Exists(Memory)
        && File.ReadAllText(Memory) == Remembered(key);

    /// <param name="key">Stands for all that goes into them.</param>
    /// <returns>How many files they are.</returns>
    /// <exception cref="StorageException">They can't be written; the old ones are as they were.</exception>
    public int Make(string key, Action<PagesFolder> fill)
    {
        // begins as unfinished releases do, so that what a killed run left is swept away with them
        string staging = Path.Combine(atlas.Releases, $".making-{release}-{FolderName}"), old = staging + "-old";
        try
        {
            foreach (string leftover in new[] { staging, old }.Where(Directory.Exists))
                Directory.Delete(leftover, recursive: true);
            PagesFolder folder = new(staging);
            fill(folder);
            folder.Finish();
            AtlasFolder.MakePrivate(atlas.Cache);
            File.Delete(Memory);   // until the new ones are in their place, nothing is known of the old ones
            if (Directory.Exists(Folder))
                Directory.Move(Folder, old);
            Directory.Move(staging, Folder);
            if (Directory.Exists(old))
                Directory.Delete(old, recursive: true);
            if (folder.IsComplete)
                DurableFile.WriteText(Memory, Remembered(key));
            return folder.Files;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw StorageException.NotWritten(Folder, e);
        }
    }

    private string Remembered(string key) => $"{release} {key}\n";
}

public sealed class PagesFolder
{
    private readonly string _root;
    private readonly SortedDictionary<string, string> _sums = new(StringComparer.Ordinal);

    internal PagesFolder(string root)
    {
        _root = root;
        Directory.CreateDirectory(root);
    }

    internal int Files => _sums.Count;

    /// <summary>False where a page could not be made: then nobody may take these pages for made.</summary>
    public bool IsComplete { get; private set; } = true;

    /// <summary>Says that a page could not be made, so that the next run makes them all again.</summary>
    public void MarkIncomplete() => IsComplete = false;

    /// <param name="path">Path from the folder, with forward slashes.</param>
    public void WriteText(string path, string text)
    {
        File.WriteAllText(PathOf(path), text);
        _sums[path] = DurableFile.Sha256(PathOf(path));
    }

    /// <summary>Gives a file of the atlas that never changes a second name among the pages, or a copy where that can't be.</summary>
    public void Add(string path, string existing)
    {
        FileSystemCall.LinkOrCopy(existing, PathOf(path));
        _sums[path] = DurableFile.Sha256(existing);
    }

    /// <summary>Lets files be made in a folder of the pages.</summary>
    /// <param name="path">Path from the folder, ending with a slash.</param>
    public T Fill<T>(string path, Func<string, T> make)
    {
        string folder = Path.Combine(_root, path);
        Directory.CreateDirectory(folder);
        T made = make(folder);
        foreach (string file in Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories))
            _sums[Path.GetRelativePath(_root, file).Replace('\\', '/')] = DurableFile.Sha256(file);
        return made;
    }

    internal void Finish()
    {
        string sums = Path.Combine(_root, ReleaseWriter.ChecksumsName);
        DurableFile.WriteText(sums, ReleaseDescriptor.Checksums(_sums.Select(s => (s.Key, s.Value))));
        FileSystemCall.Flush([sums]);
    }

    private string PathOf(string path)
    {
        string full = Path.Combine(_root, path);
        Directory.CreateDirectory(Path.GetDirectoryName(full)!);
        return full;
    }
}
