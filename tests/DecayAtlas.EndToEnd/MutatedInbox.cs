using System.Globalization;
using System.IO.Compression;
using System.Text;
using System.Text.RegularExpressions;

namespace DecayAtlas.EndToEnd;

/// <summary>An inbox of the shipped examples as folders, archives, workbooks and tables with a mapping, each of a group of its
/// own.</summary>
internal static partial class MutatedInbox
{
    /// <summary>Writes one contribution a seed; sound ones, or with one to five things done to each.</summary>
    public static void Write(string folder, int first, int count, bool mutate)
    {
        Directory.CreateDirectory(folder);
        for (int seed = first; seed < first + count; seed++)
            WriteOne(folder, seed, mutate);
    }

    /// <summary>The contribution of a seed: the same bytes each time.</summary>
    private static void WriteOne(string inbox, int seed, bool mutate)
    {
        Random random = new(seed);
        string name = string.Create(CultureInfo.InvariantCulture, $"m{seed:00000}");
        int kind = seed % 5;
        List<MutableFile> files = kind switch
        {
            2 => Workbook(name),
            3 or 4 => Wide(name),
            _ => Package(name),
        };
        bool isLoose = kind == 4, isArchive = kind is 1 or 2;
        if (mutate)
        {
            for (int i = random.Next(1, 6); i > 0; i--)
                Mutation.Apply(files, random, mayRename: !isLoose);
        }

        if (isArchive)
        {
            byte[] zip = Mutation.Zip(files);
            File.WriteAllBytes(
                Path.Combine(inbox, name + (kind == 1 ? ".zip" : ".xlsx")), mutate && random.Next(5) == 0 ? Mutation.Broken(zip, random)
                    : zip);
            return;
        }

        string folder = isLoose ? inbox : Directory.CreateDirectory(Path.Combine(inbox, name)).FullName;
        foreach (MutableFile file in files)
            File.WriteAllBytes(Path.Combine(folder, file.Name), file.Bytes);
    }

    private static List<MutableFile> Package(string name) =>
    [
        .. Directory.GetFiles(Project.PathOf("schemas/v1/example")).Order(StringComparer.Ordinal)
            .Select(file => new MutableFile(Path.GetFileName(file), File.ReadAllBytes(file)))
            .Select(file => { file.Text = Renamed(file.Text, name); return file; }),
    ];

    private static List<MutableFile> Wide(string name) =>
    [
        new(name + ".csv", File.ReadAllBytes(Project.PathOf("docs/examples/results.csv"))),
        new(name + ".mapping.yaml",
            Encoding.UTF8.GetBytes(Renamed(File.ReadAllText(Project.PathOf("docs/examples/results.mapping.yaml")), name))),
    ];

    private static List<MutableFile> Workbook(string name)
    {
        string folder = Directory.CreateTempSubdirectory("decayatlas-book-").FullName, path = Path.Combine(folder, "book.xlsx");
        MinimalWorkbook.Write(path,
        [
            ("package", [["name", "value"], ["name", name], ["revision", "1"], ["created", "2024-09-02"], ["licence", "CC-BY-4.0"],
                ["contributor", "g-" + name], ["campaign", "example-2024"], ["protocol", "two-litters-90-days"]]),
            .. new[] { "sites", "lots", "bags", "samples" }.Select(table => (table, Cells(table))),
        ]);
        List<MutableFile> parts = [];
        using (ZipArchive zip = ZipFile.OpenRead(path))
        {
            foreach (ZipArchiveEntry entry in zip.Entries)
            {
                using MemoryStream bytes = new();
                using Stream from = entry.Open();
                from.CopyTo(bytes);
                parts.Add(new(entry.FullName, bytes.ToArray()));
            }
        }

        Directory.Delete(folder, recursive: true);
        return parts;
    }

    /// <summary>The example's table; what stands in quotes there are notes, which may hold commas.</summary>
    private static string[][] Cells(string table) =>
        [.. File.ReadAllLines(Project.PathOf($"schemas/v1/example/{table}.csv"))
            .Select(line => QuotedNote().Replace(line, "a note").Split(','))];

    /// <summary>Under a name and of a group of its own.</summary>
    private static string Renamed(string text, string name) => text
        .Replace("example-meadow-and-wood", name, StringComparison.Ordinal)
        .Replace("\"example-group\"", $"\"g-{name}\"", StringComparison.Ordinal)
        .Replace("example-school-2024", name, StringComparison.Ordinal)
        .Replace("contributor: example-school", $"contributor: g-{name}", StringComparison.Ordinal);

    [GeneratedRegex("\"[^\"]*\"")]
    private static partial Regex QuotedNote();
}
