using System.Collections.Concurrent;
using System.IO.Compression;
using System.Text.Json;
using NetTopologySuite.Geometries;

namespace DecayAtlas.Atlas.Exports;

/// <summary>A file made of a release for people.</summary>
/// <param name="Path">From the folder it was made in, with forward slashes.</param>
public sealed record ExportedFile(string Path, long Bytes);

/// <summary>
/// A release as people's programs read it: each table as CSV, all as sheets of a workbook, sites and burials as a GeoPackage, and the
/// whole as one archive. Made of the Parquet files, as they are; the same release gives the same bytes.
/// </summary>
public sealed class ReleaseExports
{
    public const string BookName = "tables.xlsx", PlacesName = "places.gpkg", WholeName = "release.zip";

    private const string ReadMe = "README.txt";

    private readonly string _folder;
    private readonly ExportedTable[] _tables;
    private readonly ReleaseReader _reader;

    /// <exception cref="AtlasException">The release's descriptor can't be read.</exception>
    public ReleaseExports(AtlasFolder atlas, ReleaseName release)
    {
        (_folder, _reader) = (atlas.FolderOf(release), new ReleaseReader(atlas, release.Id));
        IReadOnlyDictionary<string, int> rows = RowsOf(Path.Combine(_folder, ReleaseDescriptor.DataPackageName));
        _tables = [.. AtlasTables.All.Where(_reader.Has)
            .Select(t => new ExportedTable(t, _reader.FilesOf(t.Name), rows.GetValueOrDefault(t.Name)))];
    }

    /// <summary>Rows of all tables together.</summary>
    public long Rows => _tables.Sum(t => (long)t.Rows);

    /// <summary>Tables with more rows than a sheet of the workbook holds.</summary>
    public IReadOnlyList<string> WithoutSheet => [.. _tables.Except(TableBook.Held(_tables)).Select(t => t.Name)];

    public static string CsvOf(string table) => $"csv/{table}.csv";

    /// <summary>Makes the files in a folder that is there.</summary>
    /// <param name="isWanted">Which of them, by their path.</param>
    /// <param name="progress">Called with what is made, how many are done, and how many there are.</param>
    /// <exception cref="AtlasException">A table can't be read.</exception>
    public IReadOnlyList<ExportedFile> WriteTo(
        string folder, Func<string, bool>? isWanted = null, Action<string, int, int>? progress = null)
    {
        bool whole = isWanted?.Invoke(WholeName) ?? true;
        List<(string Path, Action<string> Make)> files =
        [
            (BookName, path => Written(path, stream => TableBook.Write(stream, _reader.ReleaseId, _tables))),
            (PlacesName, WritePlaces),
            .. _tables.Select(t => (CsvOf(t.Name), (Action<string>)(path => Written(path, stream => CsvTable.Write(stream, t))))),
        ];
        if (!whole)
            files.RemoveAll(f => !isWanted!(f.Path));
        int done = 0, count = files.Count + (whole ? 1 : 0);
        try
        {
            Parallel.ForEach(Partitioner.Create(files, EnumerablePartitionerOptions.NoBuffering), file =>
            {
                Made(file.Path, file.Make);
                progress?.Invoke(file.Path, Interlocked.Increment(ref done), count);
            });
        }
        catch (AggregateException e) when (e.InnerExceptions[0] is AtlasException or IOException or UnauthorizedAccessException)
        {
            System.Runtime.ExceptionServices.ExceptionDispatchInfo.Throw(e.InnerExceptions[0]);
        }

        if (whole)
        {
            Made(WholeName, path => Written(path, stream => WriteWhole(stream, folder, files.Select(f => f.Path))));
            progress?.Invoke(WholeName, count, count);
            foreach ((string path, _) in files.Where(f => isWanted?.Invoke(f.Path) == false))
            {
                string full = Path.Combine(folder, path), within = Path.GetDirectoryName(full)!;
                File.Delete(full);
                if (within != folder && !Directory.EnumerateFileSystemEntries(within).Any())
                    Directory.Delete(within);
            }
        }

        return
        [
            .. files.Select(f => f.Path).Append(WholeName).Order(StringComparer.Ordinal)
                .Select(path => (Path: path, File: new FileInfo(Path.Combine(folder, path)))).Where(f => f.File.Exists)
                .Select(f => new ExportedFile(f.Path, f.File.Length)),
        ];

        void Made(string path, Action<string> make)
        {
            string full = Path.Combine(folder, path);
            Directory.CreateDirectory(Path.GetDirectoryName(full)!);
            File.Delete(full);
            make(full);
        }
    }

    private void WritePlaces(string path)
    {
        Dictionary<string, Point> places = _reader.Rows(AtlasTables.Sites).Select(s => (s.SiteKey, Place: SitePoint.Of(s)))
            .Where(s => s.Place is not null).ToDictionary(s => s.SiteKey, s => s.Place!, StringComparer.Ordinal);
        PlacesPackage.Write(path, Of(AtlasTables.Sites), Of(AtlasTables.Burials), places,
            new MappedColumns(_reader.Rows(AtlasTables.SiteCampaigns)));

        ExportedTable Of(Table table) => _tables.First(t => t.Table == table);
    }

    private void WriteWhole(Stream stream, string folder, IEnumerable<string> paths)
    {
        using TimelessZip zip = new(stream);
        zip.Add(ReadMe, target =>
        {
            using Stream text = typeof(ReleaseExports).Assembly.GetManifestResourceStream(ReadMe)!;
            text.CopyTo(target);
        });
        foreach (string name in new[] { SiteGeoJson.FileName, ReleaseDescriptor.DataPackageName, ReleaseDescriptor.CitationName })
        {
            if (File.Exists(Path.Combine(_folder, name)))
                zip.AddFile(name, Path.Combine(_folder, name));
        }

        foreach (string path in paths.Order(StringComparer.Ordinal))
        {
            // a workbook is an archive already
            zip.AddFile(path, Path.Combine(folder, path), path == BookName ? CompressionLevel.NoCompression : CompressionLevel.Fastest);
        }
    }

    private static void Written(string path, Action<Stream> write)
    {
        using FileStream stream = new(path, FileMode.CreateNew, FileAccess.Write, FileShare.None, 1 << 16);
        write(stream);
    }

    private static IReadOnlyDictionary<string, int> RowsOf(string descriptor)
    {
        try
        {
            using JsonDocument package = JsonDocument.Parse(File.ReadAllBytes(descriptor));
            return ReleaseRows.In(package.RootElement);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or JsonException or KeyNotFoundException)
        {
            throw new AtlasException($"{descriptor} can't be read; let decayatlas verify name what rotted, and restore the release from a "
                + "backup.", e);
        }
    }
}
