using System.Text.Json;
using System.Text.Json.Nodes;

namespace DecayAtlas.Atlas.Releases;

/// <summary>Something in the atlas that is not what it was when it was written.</summary>
/// <param name="What">What is wrong, and what to do.</param>
public sealed record Rot(string Path, string What);

/// <summary>Recomputes every checksum of the atlas and names what rotted.</summary>
public sealed class AtlasCheck(AtlasFolder atlas)
{
    private readonly List<Rot> _found = [];

    public int Files { get; private set; }

    /// <summary>Checks <c>current</c>, every release, every part, every model and every map.</summary>
    public IReadOnlyList<Rot> Run(Action<string, int, int>? progress)
    {
        _found.Clear();
        string[] releases = FoldersOf(atlas.Releases);
        // one release and no link at all is what a first run leaves that was killed just before it set the link: the next run sets it
        if ((releases.Length > 1 || new DirectoryInfo(atlas.Current).LinkTarget is not null) && atlas.CurrentRelease() is null)
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
            {
                Add(part,
                    "its bytes are not those it is named by; nothing is to be done but to look after the disk: the next release that "
                    + "needs it writes it anew");
            }
        }

        foreach (string made in new[] { atlas.Models, atlas.Maps }.SelectMany(FoldersOf))
            CheckMade(made, MadeFolder.ChecksumsName);
        return _found;
    }

    private void CheckMade(string folder, string checksumsName)
    {
        if (new DirectoryInfo(folder).LinkTarget is not null)
            return;   // current
        const string remedy = "delete the folder, and the next run makes it anew";
        string sums = Path.Combine(folder, checksumsName);
        if (!File.Exists(sums))
        {
            Add(folder, $"it has no list of checksums; {remedy}");
            return;
        }

        string[] lines = File.ReadAllLines(sums);
        Files += lines.Length;
        foreach ((string path, string what) in FolderChecksums.Differences(folder, lines, checksumsName))
            Add(Path.Combine(folder, path), $"{what}; {remedy}");
    }

    private void CheckRelease(string release)
    {
        string sums = Path.Combine(release, ReleaseWriter.ChecksumsName);
        if (!File.Exists(sums))
        {
            Add(sums, "the checksums are missing, so that nothing of the release can be checked; restore the release from a backup");
            return;
        }

        string[] lines = File.ReadAllLines(sums);
        Files += lines.Length;
        foreach ((string path, string what) in FolderChecksums.Differences(release, lines, ReleaseWriter.ChecksumsName)
            .Where(d => !d.Path.StartsWith(ReleasePages.FolderName + "/", StringComparison.Ordinal)))
        {
            Add(Path.Combine(release, path), $"{what}; {RemedyFor(path, lines)}");
        }

        if (!HasItsId(release, lines))
        {
            Add(sums,
                "it and the release's descriptor do not give the id that the release is named by, so that one of them was changed; "
                + "restore the release from a backup");
        }

        if (Directory.Exists(Path.Combine(release, ReleasePages.FolderName)))
            CheckMade(Path.Combine(release, ReleasePages.FolderName), ReleaseWriter.ChecksumsName);
    }

    /// <summary>The id stands for the checksums of all data files and for what the release was made from: it is computed again.</summary>
    private static bool HasItsId(string release, IEnumerable<string> lines)
    {
        try
        {
            JsonNode? descriptor = JsonNode.Parse(File.ReadAllBytes(Path.Combine(release, ReleaseDescriptor.DataPackageName)));
            IEnumerable<(string Path, string Sha256)> files = lines.Where(l => l.Length > 66).Select(l => (Path: l[66..], Sha256: l[..64]))
                .Where(f => f.Path is not (ReleaseDescriptor.DataPackageName or ReleaseDescriptor.CitationName));
            return ReleaseDescriptor.StatementIn(descriptor) is { } statement
                && ReleaseWriter.Digest(files, statement) == ReleaseName.Parse(Path.GetFileName(release))?.Id;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or JsonException or InvalidOperationException)
        {
            return false;   // the descriptor itself is told above
        }
    }

    private string RemedyFor(string path, IEnumerable<string> lines)
    {
        if (lines.FirstOrDefault(l => l.Length > 66 && l[66..] == path) is not { } line)
            return "move it elsewhere";
        string part = Path.Combine(atlas.Parts, line[..64] + Path.GetExtension(path));
        return File.Exists(part) && Sha256Of(part) == line[..64]
            ? $"copy {Path.GetRelativePath(atlas.Root, part)} over it, which is what was released, or restore the release from a backup"
            : "restore the release from a backup";
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

    private static string[] FilesOf(string folder) => Directory.Exists(folder)
        ? [.. Directory.EnumerateFiles(folder).Order(StringComparer.Ordinal)] : [];
}
