using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using DecayAtlas.Atlas.Storage;
using DecayAtlas.Atlas.Tables;
using DecayAtlas.Contributions;

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
    private const string StagingPrefix = ".making-";

    /// <summary>Publishes, or finds that nothing changed since the current release.</summary>
    /// <exception cref="AtlasException">The atlas can't be written; <c>current</c> is as it was.</exception>
    public ReleaseOutcome Publish(ReleaseTables tables, ReleaseStatement statement, Action<string, int, int>? progress = null)
    {
        try
        {
            return PublishCore(tables, statement, progress);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new AtlasException(
                $"The release could not be written to {folder.Root} because {StorageFault.Reason(e)}; the current release is untouched, mend that and run again.", e);
        }
    }

    private ReleaseOutcome PublishCore(ReleaseTables tables, ReleaseStatement statement, Action<string, int, int>? progress)
    {
        Directory.CreateDirectory(folder.Releases);
        foreach (string leftover in Directory.EnumerateDirectories(folder.Releases, StagingPrefix + "*"))
            Directory.Delete(leftover, recursive: true);

        IReadOnlyList<ReleaseFile> files = WriteParts(tables, progress);
        var counts = new SortedDictionary<string, int>(StringComparer.Ordinal);
        foreach (Table table in AtlasTables.All)
            counts[table.Name] = files.Where(f => f.Table == table.Name).Sum(f => f.Rows);

        string digest = Digest(files, statement);
        string? current = folder.CurrentReleaseId();
        if (current is not null && DigestOf(current) == digest)
            return new ReleaseOutcome(current, false, counts);

        string id = ExistingWith(digest) ?? $"{NextNumber():0000}-{digest}";
        if (!Directory.Exists(folder.Release(id)))
            WriteRelease(id, tables, statement, files);
        FileSystemCall.SwapLink(folder.Current, Path.Combine("releases", id));
        return new ReleaseOutcome(id, true, counts);
    }

    private List<ReleaseFile> WriteParts(ReleaseTables tables, Action<string, int, int>? progress)
    {
        var store = new PartStore(folder.Parts);
        var files = new List<ReleaseFile>();
        int done = 0;
        Add(AtlasTables.Contributions, tables.Contributions);
        Add(AtlasTables.Sites, tables.Sites, rows => new Dictionary<string, string> { ["geo"] = GeoParquet.Metadata(rows.Span) });
        Add(AtlasTables.Lots, tables.Lots);
        Add(AtlasTables.Bags, tables.Bags);
        Add(AtlasTables.Burials, tables.Burials);
        Add(AtlasTables.SiteCampaigns, tables.SiteCampaigns);
        Add(AtlasTables.Covariates, tables.Covariates);
        Add(AtlasTables.Flags, tables.Flags);
        Add(AtlasTables.Samples, tables.Samples);
        files.Add(store.Put("sites.geojson", null, tables.Sites.Count, stream => SiteGeoJson.Write(stream, tables.Sites)));
        return files;

        void Add<TRow>(Table<TRow> table, IReadOnlyList<TRow> rows, Func<ReadOnlyMemory<TRow>, Dictionary<string, string>>? metadata = null)
        {
            progress?.Invoke(table.Name, done++, AtlasTables.All.Count);
            // every table has at least one file, so that an empty one still shows its columns
            IEnumerable<IGrouping<string, TRow>> groups = rows
                .GroupBy(row => string.Concat(table.Partition.Select(p => p.FolderOf(row) + "/")), StringComparer.Ordinal)
                .OrderBy(g => g.Key, StringComparer.Ordinal);
            bool any = false;
            foreach (IGrouping<string, TRow> group in groups)
            {
                any = true;
                Put(group.Key, [.. group]);
            }

            if (!any)
                Put(string.Concat(table.Partition.Select(p => $"{p.Name}={PartitionKey<TRow>.MissingValue}/")), []);

            void Put(string partition, TRow[] part) => files.Add(store.Put(
                $"{table.Name}/{partition}{table.Name}.parquet", table.Name, part.Length,
                stream => ParquetPart.WriteAsync(stream, table, part, metadata?.Invoke(part)).GetAwaiter().GetResult()));
        }
    }

    private void WriteRelease(string id, ReleaseTables tables, ReleaseStatement statement, IReadOnlyList<ReleaseFile> files)
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
        AddText("datapackage.json", ReleaseDescriptor.DataPackage(id, statement, tables, files));
        AddText("CITATION.cff", ReleaseDescriptor.Citation(id, statement));
        DurableFile.WriteText(Path.Combine(staging, "checksums.sha256"), ReleaseDescriptor.Checksums(sums));
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
            .Append(statement.Settings).Append('\n').Append(statement.SoftwareVersion).Append('\n');
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
