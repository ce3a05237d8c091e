using System.IO.Compression;
using System.Text;
using System.Text.Json.Nodes;

namespace DecayAtlas.Atlas.Exports;

/// <summary>A release as a repository for data takes it: few files in one folder, and beside them the documents that catalogues
/// read.</summary>
public static class ReleaseDeposit
{
    public const string ParquetName = "parquet.zip", ReadMeName = "README.md";

    /// <summary>Makes the files in a folder that is there.</summary>
    /// <param name="release">With its day of publication.</param>
    /// <param name="progress">Called with what is made, how many are done, and how many there are.</param>
    /// <exception cref="AtlasException">The release can't be read, or has no day of publication.</exception>
    public static IReadOnlyList<ExportedFile> WriteTo(string folder, AtlasFolder atlas, ReleaseName name, ReleaseDescription release,
        Action<string, int, int>? progress = null)
    {
        string dataCite = DataCiteDocument.Of(release);
        string parquet = Path.Combine(folder, ParquetName);
        File.Delete(parquet);
        WriteParquet(parquet, atlas.FolderOf(name));
        new ReleaseExports(atlas, name).WriteTo(folder, path => path == ReleaseExports.WholeName, progress);
        DurableFile.WriteText(Path.Combine(folder, ReleaseDescriptor.CitationName), CitationOf(release));
        DurableFile.WriteText(Path.Combine(folder, DataCiteDocument.FileName), dataCite);
        DescribedFile[] data =
        [
            Held(ReleaseExports.WholeName, "application/zip", "Every table as CSV and as sheets of a workbook, sites and burials as a "
                + "GeoPackage and as GeoJSON, the description of every column."),
            Held(ParquetName, "application/zip",
                "The same tables as partitioned Parquet with all digits, and the checksums of the release."),
            Held(ReleaseDescriptor.CitationName, "application/yaml", "How to cite, in the Citation File Format."),
            Held(DataCiteDocument.FileName, "application/json", "The release as a document of the DataCite Metadata Schema."),
        ];
        DurableFile.WriteText(Path.Combine(folder, ReadMeName), ReadMe(release, data));
        DescribedFile[] all = [.. data, Held(ReadMeName, "text/markdown", "What is in this folder.")];
        DurableFile.WriteText(Path.Combine(folder, ResearchCrate.FileName), ResearchCrate.Of(release, all));
        string[] names = [.. all.Select(f => f.Address), ResearchCrate.FileName];
        DurableFile.WriteText(Path.Combine(folder, ReleaseWriter.ChecksumsName),
            ReleaseDescriptor.Checksums(names.Select(n => (n, DurableFile.Sha256(Path.Combine(folder, n))))));
        return
        [
            .. names.Append(ReleaseWriter.ChecksumsName)
                .Select(n => new ExportedFile(n, new FileInfo(Path.Combine(folder, n)).Length)),
        ];

        DescribedFile Held(string file, string format, string meaning)
        {
            string path = Path.Combine(folder, file);
            return new(file, format, meaning, new FileInfo(path).Length, DurableFile.Sha256(path));
        }
    }

    private static void WriteParquet(string path, string release)
    {
        using FileStream stream = new(path, FileMode.CreateNew, FileAccess.Write, FileShare.None, 1 << 16);
        using TimelessZip zip = new(stream);
        string pages = Path.Combine(release, ReleasePages.FolderName) + Path.DirectorySeparatorChar;
        foreach (string file in Directory.EnumerateFiles(release, "*", SearchOption.AllDirectories)
            .Where(f => !f.StartsWith(pages, StringComparison.Ordinal)).Order(StringComparer.Ordinal))
        {
            zip.AddFile(Path.GetRelativePath(release, file).Replace('\\', '/'), file,
                file.EndsWith(".parquet", StringComparison.Ordinal) ? CompressionLevel.NoCompression : CompressionLevel.Optimal);
        }
    }

    private static string CitationOf(ReleaseDescription release)
    {
        JsonObject said = (JsonObject)(release.Statement.Citation?.Said ?? []).DeepClone();
        if (release.Published is { } day)
            said["date-released"] = day.ToString("yyyy-MM-dd", InvariantCulture);
        if (release.Doi is { } doi)
        {
            said["doi"] = doi;
            if (release.DoiOfAll is { } all && all != doi)
            {
                JsonArray identifiers = said["identifiers"] as JsonArray ?? [];
                identifiers.Add(new JsonObject
                {
                    ["type"] = "doi",
                    ["value"] = all,
                    ["description"] = "The data over all releases.",
                });
                said["identifiers"] = identifiers;
            }
        }
        return ReleaseDescriptor.Citation(release.Id, release.Statement with { Citation = new Citation(said) });
    }

    private static string ReadMe(ReleaseDescription release, IEnumerable<DescribedFile> files)
    {
        StringBuilder text = new();
        string at = release.Address is { } address ? $", {address}" : "";
        text.Append(Invariant($"# {release.Title}\n\n{release.Abstract}\n\n"));
        text.Append(Invariant($"Release {release.Id}, published {release.Published:yyyy-MM-dd} by {release.Publisher}{at}. "));
        text.Append(Invariant($"{release.Software}.\n\n"));
        text.Append("| file | what it is |\n| --- | --- |\n");
        foreach (DescribedFile file in files)
            text.Append(Invariant($"| `{file.Address}` | {file.Meaning} |\n"));
        text.Append("\nLicences of the contributions: ").AppendJoin(", ", release.Licences.Select(l => $"{l.Name} ({l.Contributions})"));
        text.Append(". Which contribution has which: the table `contributions`. Whoever takes a part names who made it.\n\n");
        text.Append("Sites that are marked as sensitive stand at the centre of a cell of 0.1 degrees. Neither the data nor a map made of "
            + "them is a basis for regulation, fertiliser or carbon-credit decisions.\n");
        return text.ToString();
    }
}
