using System.IO.Compression;
using System.Text;
using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Sending;

/// <summary>A contribution as one file to send: a zip of the plain data package that its rows make, whatever form it was read
/// from. A data package goes as it is.</summary>
public static class SentPackage
{
    // the oldest time a zip can hold: the same bytes whenever it is made
    private static readonly DateTimeOffset ZipTime = new(1980, 1, 1, 0, 0, 0, TimeSpan.Zero);

    private static readonly UTF8Encoding Utf8 = new(encoderShouldEmitUTF8Identifier: false);

    /// <summary>What is to be sent, and its name; null where the contribution is not valid.</summary>
    /// <param name="mappingPath">As for <see cref="ContributionReader.Read"/>.</param>
    /// <param name="revision">In place of the one that is stated, for what mends something that was sent before.</param>
    public static (string Name, byte[] Zip)? Of(string path, IntakeLimits limits, string? mappingPath = null, int? revision = null)
    {
        ReadResult result = ContributionReader.Read(path, limits, mappingPath);
        if (result.Contribution is not { } contribution)
            return null;
        string name = contribution.Header.ContributionId + ".zip";
        if (result.Format == ContributionFormat.DataPackage)
            return (name, File.Exists(path) && revision is null ? File.ReadAllBytes(path) : ZipOf(FilesIn(path, revision)));
        Dictionary<string, string> stated = new(result.Stated!);
        if (revision is { } number)
            stated["revision"] = Invariant($"{number}");
        return (name, ZipOf(FilesOf(contribution, stated)));
    }

    private static SortedDictionary<string, byte[]> FilesIn(string path, int? revision)
    {
        using Package package = OpenedPackage.Of(path, null);
        SortedDictionary<string, byte[]> files = new(package.Files.ToDictionary(f => f.Path, f => f.Load().ToArray()),
            StringComparer.Ordinal);
        if (revision is { } number)
        {
            JsonObject descriptor = JsonNode.Parse(files[SchemaCatalogue.DescriptorName])!.AsObject();
            descriptor["revision"] = number;
            files[SchemaCatalogue.DescriptorName] = Utf8.GetBytes(descriptor.ToJsonString(JsonText.Options) + "\n");
        }
        return files;
    }

    private static SortedDictionary<string, byte[]> FilesOf(Contribution contribution, IReadOnlyDictionary<string, string> stated)
    {
        SortedDictionary<string, byte[]> files = new(StringComparer.Ordinal);
        Add(SchemaCatalogue.Sites, contribution.Sites.Select(SentColumns.Of));
        Add(SchemaCatalogue.Lots, contribution.Lots.Select(SentColumns.Of));
        Add(SchemaCatalogue.Bags, contribution.Bags.Select(SentColumns.Of));
        Add(SchemaCatalogue.Results, contribution.Results.Select(SentColumns.Of));
        Add(SchemaCatalogue.Samples, contribution.Samples.Select(SentColumns.Of));

        JsonObject descriptor = FlatDescriptor.Document(stated);
        descriptor["resources"] = new JsonArray([.. SchemaCatalogue.Tables.Where(table => files.ContainsKey(table.Name + ".csv"))
            .Select(table => new JsonObject
            {
                ["name"] = table.Name,
                ["path"] = table.Name + ".csv",
                ["format"] = "csv",
                ["mediatype"] = "text/csv",
                ["encoding"] = "utf-8",
            })]);
        files[SchemaCatalogue.DescriptorName] = Utf8.GetBytes(descriptor.ToJsonString(JsonText.Options) + "\n");
        return files;

        void Add(TableSchema table, IEnumerable<IReadOnlyList<(string Name, string Text)>> rows)
        {
            IReadOnlyList<(string Name, string Text)>[] all = [.. rows];
            // a column that nothing stands in says nothing
            string[] columns = [.. table.Fields.Where(field => field.Required || all.Any(row => TextOf(row, field.Name).Length > 0))
                .Select(field => field.Name)];
            if (all.Length > 0)
            {
                files[table.Name + ".csv"] = Utf8.GetBytes(string.Concat(all.Select(row => columns.Select(name => TextOf(row, name)))
                    .Prepend(columns).Select(cells => string.Join(',', cells.Select(Quoted)) + "\n")));
            }
        }
    }

    private static string TextOf(IReadOnlyList<(string Name, string Text)> row, string column) =>
        row.First(cell => cell.Name == column).Text;

    // RFC 4180, section 2
    private static string Quoted(string text) => text.AsSpan().IndexOfAny(",\"\r\n") < 0 && text.Trim() == text ? text
        : $"\"{text.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";

    private static byte[] ZipOf(SortedDictionary<string, byte[]> files)
    {
        using MemoryStream memory = new();
        using (ZipArchive zip = new(memory, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach ((string name, byte[] bytes) in files)
            {
                ZipArchiveEntry entry = zip.CreateEntry(name, CompressionLevel.Optimal);
                entry.LastWriteTime = ZipTime;
                using Stream stream = entry.Open();
                stream.Write(bytes);
            }
        }

        return memory.ToArray();
    }
}
