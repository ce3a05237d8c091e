using System.Security.Cryptography;
using System.Text;

namespace DecayAtlas.Atlas.Releases;

/// <summary>
/// Publishes the atlas. Parts are written first, then the release folder under a temporary name, then two renames: the folder
/// and the link <c>current</c>. A crash at any instant leaves <c>current</c> on the last good release.
/// </summary>
/// <remarks>
/// A release is known by the digest of its content and settings: the same inputs and settings give the same id and the same bytes,
/// and no release is written twice.
/// </remarks>
public sealed class ReleaseWriter(AtlasFolder folder)
{
    /// <summary>The file of a release that holds the SHA-256 of all others.</summary>
    public const string ChecksumsName = "checksums.sha256";

    private const string StagingPrefix = ".making-";

    /// <summary>Publishes the files, or finds that nothing changed since the current release.</summary>
    /// <param name="files">Every file of the release; its part is in the store.</param>
    /// <param name="remake">Is asked to write a part anew that has rotted since it was written.</param>
    /// <exception cref="AtlasException">The atlas can't be written, or a rotten part could not be made anew; <c>current</c> is as it
    /// was.</exception>
    public ReleaseOutcome Publish(IReadOnlyList<ReleaseFile> files, ReleaseStatement statement, Action<ReleaseFile>? remake = null)
    {
        try
        {
            Directory.CreateDirectory(folder.Releases);
            foreach (string leftover in Directory.EnumerateDirectories(folder.Releases, StagingPrefix + "*"))
                Directory.Delete(leftover, recursive: true);

            string digest = Digest(SumsOf(files), statement);
            ReleaseName? current = folder.CurrentRelease();
            if (current?.Id == digest)
                return new ReleaseOutcome(current, false, CountsOf(files), ChecksumsOf(current));

            IReadOnlyList<ReleaseName> all = folder.ReleaseNames();
            ReleaseName release = all.FirstOrDefault(r => r.Id == digest)
                ?? new ReleaseName(all.Select(r => r.Number).DefaultIfEmpty(0).Max() + 1, digest);
            if (!Directory.Exists(folder.FolderOf(release)))
                WriteRelease(release, statement, files, remake);
            FileSystemCall.SwapLink(folder.Current, Path.Combine("releases", release.ToString()));
            return new ReleaseOutcome(release, true, CountsOf(files), ChecksumsOf(release));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw AtlasException.NotWritten(folder, e);
        }
    }

    private static SortedDictionary<string, int> CountsOf(IReadOnlyList<ReleaseFile> files) => new(
        AtlasTables.All.ToDictionary(t => t.Name, t => files.Where(f => f.Table == t.Name).Sum(f => f.Rows)), StringComparer.Ordinal);

    private string ChecksumsOf(ReleaseName release) => File.Exists(Path.Combine(folder.FolderOf(release), ChecksumsName))
        ? DurableFile.Sha256(Path.Combine(folder.FolderOf(release), ChecksumsName))
        : "missing";   // verify says so

    private void WriteRelease(ReleaseName release, ReleaseStatement statement, IReadOnlyList<ReleaseFile> files,
        Action<ReleaseFile>? remake)
    {
        string staging = Path.Combine(folder.Releases, StagingPrefix + release);
        Directory.CreateDirectory(staging);
        foreach (ReleaseFile file in files)
        {
            string path = Path.Combine(staging, file.Path);
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            string part = file.PartIn(folder);
            if (DurableFile.Sha256(part) != file.Sha256)
            {
                remake?.Invoke(file);
                if (DurableFile.Sha256(part) != file.Sha256)   // the name is the proof
                {
                    throw new AtlasException($"{part} is not what it was when it was written; delete it and run again, and look after "
                        + "the disk. The current release is untouched; decayatlas verify names all that rotted.");
                }
            }

            FileSystemCall.LinkOrCopy(part, path);
        }

        List<(string Path, string Sha256)> sums = [.. SumsOf(files)];
        AddText(ReleaseDescriptor.DataPackageName, ReleaseDescriptor.DataPackage(release.Id, statement, files));
        AddText(ReleaseDescriptor.CitationName, ReleaseDescriptor.Citation(release.Id, statement));
        string checksums = Path.Combine(staging, ChecksumsName);
        DurableFile.WriteText(checksums, ReleaseDescriptor.Checksums(sums));
        FileSystemCall.Flush([checksums]);   // with the links, which are entries of folders
        Directory.Move(staging, folder.FolderOf(release));

        void AddText(string name, string text)
        {
            string path = Path.Combine(staging, name);
            DurableFile.WriteText(path, text);
            sums.Add((name, DurableFile.Sha256(path)));
        }
    }

    private static IEnumerable<(string Path, string Sha256)> SumsOf(IEnumerable<ReleaseFile> files) =>
        files.Select(f => (f.Path, f.Sha256));

    /// <summary>The id of a release of these data files and this statement: it can be computed again from a release's own
    /// documents.</summary>
    internal static string Digest(IEnumerable<(string Path, string Sha256)> files, ReleaseStatement statement)
    {
        string text = ReleaseDescriptor.Checksums(files) + string.Join('\n',
            [statement.Title, statement.Publisher, statement.Settings, statement.SoftwareVersion,
                string.Join('\n', statement.Licences), .. statement.Citation is { } c ? new[] { c.Said.ToJsonString() } : []]);
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)))[..12];
    }
}
