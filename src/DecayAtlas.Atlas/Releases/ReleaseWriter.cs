using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using DecayAtlas.Atlas.Storage;
using DecayAtlas.Atlas.Tables;

namespace DecayAtlas.Atlas.Releases;

/// <summary>
/// Publishes the atlas. Parts are written first, then the release folder under a temporary name, then two renames: the folder
/// and the link <c>current</c>. A crash at any instant leaves <c>current</c> on the last good release.
/// </summary>
/// <remarks>
/// A release id is a running number and the first twelve digits of the digest of its content and settings:
/// the same inputs and settings give the same id and the same bytes, and no release is written twice.
/// </remarks>
public sealed class ReleaseWriter(AtlasFolder folder)
{
    /// <summary>The file of a release that holds the SHA-256 of all others.</summary>
    public const string ChecksumsName = "checksums.sha256";

    private const string StagingPrefix = ".making-";

    /// <summary>Publishes the files, or finds that nothing changed since the current release.</summary>
    /// <param name="files">Every file of the release; its part is in the store.</param>
    /// <exception cref="AtlasException">The atlas can't be written; <c>current</c> is as it was.</exception>
    public ReleaseOutcome Publish(IReadOnlyList<ReleaseFile> files, ReleaseStatement statement)
    {
        try
        {
            Directory.CreateDirectory(folder.Releases);
            foreach (string leftover in Directory.EnumerateDirectories(folder.Releases, StagingPrefix + "*"))
                Directory.Delete(leftover, recursive: true);

            string digest = Digest(files, statement);
            string? current = folder.CurrentReleaseId();
            if (current is not null && DigestOf(current) == digest)
                return new ReleaseOutcome(current, false, CountsOf(files));

            string id = ExistingWith(digest) ?? $"{NextNumber():0000}-{digest}";
            if (!Directory.Exists(folder.Release(id)))
                WriteRelease(id, statement, files);
            FileSystemCall.SwapLink(folder.Current, Path.Combine("releases", id));
            return new ReleaseOutcome(id, true, CountsOf(files));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw AtlasException.NotWritten(folder, e);
        }
    }

    private static SortedDictionary<string, int> CountsOf(IReadOnlyList<ReleaseFile> files) => new(
        AtlasTables.All.ToDictionary(t => t.Name, t => files.Where(f => f.Table == t.Name).Sum(f => f.Rows)), StringComparer.Ordinal);

    private void WriteRelease(string id, ReleaseStatement statement, IReadOnlyList<ReleaseFile> files)
    {
        var store = new PartStore(folder.Parts);
        string staging = Path.Combine(folder.Releases, StagingPrefix + id);
        Directory.CreateDirectory(staging);
        foreach (ReleaseFile file in files)
        {
            string path = Path.Combine(staging, file.Path);
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            FileSystemCall.LinkOrCopy(store.PathOf(file.Sha256, Path.GetExtension(file.Path)), path);
        }

        var sums = files.Select(f => (f.Path, f.Sha256)).ToList();
        AddText("datapackage.json", ReleaseDescriptor.DataPackage(id, statement, files));
        AddText("CITATION.cff", ReleaseDescriptor.Citation(id, statement));
        DurableFile.WriteText(Path.Combine(staging, ChecksumsName), ReleaseDescriptor.Checksums(sums));
        Directory.Move(staging, folder.Release(id));

        void AddText(string name, string text)
        {
            string path = Path.Combine(staging, name);
            DurableFile.WriteText(path, text);
            sums.Add((name, DurableFile.Sha256(path)));
        }
    }

    private static string Digest(IReadOnlyList<ReleaseFile> files, ReleaseStatement statement)
    {
        var text = new StringBuilder();
        foreach (ReleaseFile file in files.OrderBy(f => f.Path, StringComparer.Ordinal))
            text.Append(CultureInfo.InvariantCulture, $"{file.Sha256}  {file.Path}\n");
        text.Append(statement.Title).Append('\n').Append(statement.Publisher).Append('\n')
            .Append(statement.Settings).Append('\n').Append(statement.SoftwareVersion).Append('\n')
            .AppendJoin('\n', statement.Licences);
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())))[..12];
    }

    private IEnumerable<string> Ids() =>
        Directory.EnumerateDirectories(folder.Releases).Select(d => Path.GetFileName(d)!)
            .Where(name => !name.StartsWith('.')).Order(StringComparer.Ordinal);

    private static string DigestOf(string id) => id[(id.IndexOf('-', StringComparison.Ordinal) + 1)..];

    private string? ExistingWith(string digest) => Ids().FirstOrDefault(id => DigestOf(id) == digest);

    private int NextNumber() => 1 + Ids()
        .Select(id => int.TryParse(id.Split('-')[0], NumberStyles.None, CultureInfo.InvariantCulture, out int n) ? n : 0)
        .DefaultIfEmpty(0).Max();
}
