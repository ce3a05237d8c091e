using DecayAtlas.Atlas.Releases;

namespace DecayAtlas.Atlas.Storage;

/// <summary>Something in the atlas that is not what it was when it was written.</summary>
/// <param name="Path">Path in the atlas.</param>
/// <param name="What">What is wrong, and what to do.</param>
public sealed record Rot(string Path, string What);

/// <summary>Recomputes every checksum of the atlas and names what rotted.</summary>
public sealed class AtlasCheck(AtlasFolder atlas)
{
    private readonly List<Rot> _found = [];

    /// <summary>How many files were read.</summary>
    public int Files { get; private set; }

    /// <summary>Checks <c>current</c>, every release and every part.</summary>
    public IReadOnlyList<Rot> Run(Action<string, int, int>? progress)
    {
        _found.Clear();
        string[] releases = FoldersOf(atlas.Releases);
        if ((releases.Length > 0 || new DirectoryInfo(atlas.Current).LinkTarget is not null) && atlas.CurrentRelease() is null)
            Add(atlas.Current, "it leads to no release; publish again, and it is set anew");
        for (int i = 0; i < releases.Length; i++)
        {
            progress?.Invoke(Path.GetFileName(releases[i]), i, releases.Length + 1);
            CheckRelease(releases[i]);
        }

        progress?.Invoke("parts", releases.Length, releases.Length + 1);
        foreach (string part in FilesOf(atlas.Parts).Where(f => !f.EndsWith(DurableFile.UnfinishedSuffix, StringComparison.Ordinal)))
        {
            Files++;
            if (Sha256Of(part) is { } sha256 && sha256 != Path.GetFileNameWithoutExtension(part))
                Add(part, "its bytes are not those it is named by; delete it, and the next change writes it anew");
        }

        return _found;
    }

    private void CheckRelease(string release)
    {
        const string Restore = "restore the release from a backup";
        string pages = Path.Combine(release, ReleasePages.FolderName);
        CheckListed(release, f => !f.StartsWith(ReleasePages.FolderName + "/", StringComparison.Ordinal), "the checksums are missing, so that nothing of the release can be checked; " + Restore, Restore);
        if (Directory.Exists(pages))
        {
            const string MakeAnew = "delete the folder pages of that release and make it anew, for example with: decayatlas pages FILE";
            CheckListed(pages, _ => true, "the checksums are missing; " + MakeAnew, MakeAnew);
        }
    }

    /// <summary>Holds every file of a folder against the checksums in it.</summary>
    private void CheckListed(string folder, Func<string, bool> belongs, string noChecksums, string remedy)
    {
        string sums = Path.Combine(folder, ReleaseWriter.ChecksumsName);
        if (!File.Exists(sums))
        {
            Add(sums, noChecksums);
            return;
        }

        HashSet<string> unlisted = [.. Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories).Select(f => Path.GetRelativePath(folder, f).Replace('\\', '/')).Where(belongs)];
        unlisted.Remove(ReleaseWriter.ChecksumsName);
        foreach (string line in File.ReadLines(sums))
        {
            if (line.Length < 67)
            {
                Add(sums, "it holds a line that is no checksum; " + remedy);
                continue;
            }

            string name = line[66..], file = Path.Combine(folder, name);
            unlisted.Remove(name);
            Files++;
            if (!File.Exists(file))
                Add(file, "it is missing; " + remedy);
            else if (Sha256Of(file) is { } sha256 && sha256 != line[..64])
                Add(file, "its bytes are not those that were released; " + remedy);
        }

        foreach (string name in unlisted.Order(StringComparer.Ordinal))
            Add(Path.Combine(folder, name), "it is no file of the release; move it elsewhere");
    }

    private string? Sha256Of(string file)
    {
        try
        {
            return DurableFile.Sha256(file);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            Add(file, $"it can't be read ({e.Message.TrimEnd('.')}); look after the disk");
            return null;
        }
    }

    private void Add(string path, string what) => _found.Add(new Rot(Path.GetRelativePath(atlas.Root, path), what));

    private static string[] FoldersOf(string folder) => Directory.Exists(folder)
        ? [.. Directory.EnumerateDirectories(folder).Where(d => !Path.GetFileName(d).StartsWith('.')).Order(StringComparer.Ordinal)]
        : [];

    private static string[] FilesOf(string folder) => Directory.Exists(folder) ? [.. Directory.EnumerateFiles(folder).Order(StringComparer.Ordinal)] : [];
}
