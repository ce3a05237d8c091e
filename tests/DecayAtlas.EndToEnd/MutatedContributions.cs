using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Text.Json;
using System.Text.RegularExpressions;
using DecayAtlas.Pipeline.Configuration;
using DecayAtlas.Serving;
using DecayAtlas.Serving.Following;
using DecayAtlas.Serving.Predicting;

namespace DecayAtlas.EndToEnd;

/// <summary>
/// Sound contributions of every kind, each with one to five things done to it, from a seed each. A night takes or quarantines every one
/// of them, in the time that sound ones take. DECAYATLAS_MUTATIONS sets how many; DECAYATLAS_MUTATIONS_FROM the first seed.
/// </summary>
public sealed partial class MutatedContributions : NightWork
{
    private static readonly int HowMany = Setting("DECAYATLAS_MUTATIONS", 150), First = Setting("DECAYATLAS_MUTATIONS_FROM", 1);

    [Fact]
    public async Task Each_is_accepted_or_quarantined_and_what_comes_of_them_can_be_checked_and_served()
    {
        WriteInbox("clean-inbox", mutate: false);
        WriteInbox("inbox", mutate: true);
        Write("clean.yaml", "version: 1\natlas: clean-atlas\ninbox: clean-inbox\npages: { title: Clean }\n");
        GivenConfiguration("pages: { title: Mutated }\n");

        (CommandResult clean, TimeSpan cleanTime) = Timed("run", "clean.yaml");
        Assert.True(clean.ExitCode == 0, clean.Everything);
        (CommandResult run, TimeSpan time) = Timed("run", "p.yaml");
        Assert.True(run.ExitCode is 0 or 1, $"exit code {run.ExitCode}: {run.Everything}");
        ExpectNoMistake(run.Everything, "run");
        Assert.Equal(HowMany, Taken());
        // twice the time of sound ones; half a minute besides, for a machine that does something else too
        Assert.True(time < 2 * cleanTime + TimeSpan.FromSeconds(30), $"{time} for mutated, {cleanTime} for sound contributions");

        string[] all = [.. Directory.EnumerateFileSystemEntries(Work.PathOf("inbox")).Where(p => !p.EndsWith(".mapping.yaml", StringComparison.Ordinal)).Order(StringComparer.Ordinal)];
        foreach (string path in all.Where((_, i) => i % Math.Max(1, HowMany / 100) == 0).Take(100))
        {
            var (output, error) = (new StringWriter(), new StringWriter());
            int code = Cli.CommandLine.Run(["check", path], output, error);
            Assert.True(code is 0 or 1, $"check {path}: exit code {code}: {error}");
            ExpectNoMistake($"{output}{error}", $"check {path}");
        }

        await ExpectServed();
    }

    private async Task ExpectServed()
    {
        await using var server = AtlasServer.Build(
            new ServedAtlas(Work.PathOf("atlas")), new ServingOptions(IPAddress.Loopback, 0), new ServedModel(ConfigurationReader.Read(Work.PathOf("p.yaml"))));
        await server.StartAsync(TestContext.Current.CancellationToken);
        using var client = new HttpClient();
        string pages = Work.PathOf("atlas/current/pages");
        string[] paths = [.. Directory.EnumerateFiles(pages, "*.html", SearchOption.AllDirectories).Select(p => Path.GetRelativePath(pages, p).Replace('\\', '/')).Order(StringComparer.Ordinal)];
        Assert.True(paths.Length > 5, $"{paths.Length} pages");
        foreach (string path in paths.Where((_, i) => i % Math.Max(1, paths.Length / 50) == 0))
        {
            using HttpResponseMessage answer = await client.GetAsync(new Uri($"{server.Urls.Single()}/{string.Join('/', path.Split('/').Select(Uri.EscapeDataString))}"), TestContext.Current.CancellationToken);
            Assert.True(answer.StatusCode == HttpStatusCode.OK, $"{path}: {answer.StatusCode}");
        }

        await server.StopAsync(TestContext.Current.CancellationToken);
    }

    /// <summary>How many things of the inbox the last run took a decision on.</summary>
    private int Taken()
    {
        using var record = JsonDocument.Parse(File.ReadAllText(Directory.GetFiles(Work.PathOf("atlas/runs"), "*.json").Order(StringComparer.Ordinal).Last()));
        return record.RootElement.GetProperty("intake").EnumerateObject().Sum(p => p.Value.GetInt32());
    }

    private static void ExpectNoMistake(string text, string what) =>
        Assert.False(text.Contains("made a mistake", StringComparison.Ordinal) || text.Contains("   at DecayAtlas.", StringComparison.Ordinal), $"{what}: {text}");

    private (CommandResult Result, TimeSpan Time) Timed(params string[] args)
    {
        var clock = Stopwatch.StartNew();
        return (Work.DecayAtlas(args), clock.Elapsed);
    }

    private void WriteInbox(string inbox, bool mutate)
    {
        Directory.CreateDirectory(Work.PathOf(inbox));
        for (int seed = First; seed < First + HowMany; seed++)
            WriteOne(Work.PathOf(inbox), seed, mutate);
    }

    /// <summary>The contribution of a seed: the same bytes each time.</summary>
    private void WriteOne(string inbox, int seed, bool mutate)
    {
        var random = new Random(seed);
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
            File.WriteAllBytes(Path.Combine(inbox, name + (kind == 1 ? ".zip" : ".xlsx")), mutate && random.Next(5) == 0 ? Mutation.Broken(zip, random) : zip);
            return;
        }

        string folder = isLoose ? inbox : Directory.CreateDirectory(Path.Combine(inbox, name)).FullName;
        foreach (MutableFile file in files)
            File.WriteAllBytes(Path.Combine(folder, file.Name), file.Bytes);
    }

    private static List<MutableFile> Package(string name) =>
    [
        .. Directory.GetFiles(Project.PathOf("schemas/v1/example")).Order(StringComparer.Ordinal).Select(file => new MutableFile(Path.GetFileName(file), File.ReadAllBytes(file)))
            .Select(file => { file.Text = Renamed(file.Text, name); return file; }),
    ];

    private static List<MutableFile> Wide(string name) =>
    [
        new(name + ".csv", File.ReadAllBytes(Project.PathOf("docs/examples/results.csv"))),
        new(name + ".mapping.yaml", System.Text.Encoding.UTF8.GetBytes(Renamed(File.ReadAllText(Project.PathOf("docs/examples/results.mapping.yaml")), name))),
    ];

    private List<MutableFile> Workbook(string name)
    {
        string path = Work.PathOf("book.xlsx");
        File.Delete(path);
        MinimalWorkbook.Write(path,
        [
            ("package", [["name", "value"], ["name", name], ["revision", "1"], ["created", "2024-09-02"], ["licence", "CC-BY-4.0"], ["contributor", "g-" + name], ["campaign", "example-2024"], ["protocol", "two-litters-90-days"]]),
            .. new[] { "sites", "lots", "bags", "samples" }.Select(table => (table, Cells(table))),
        ]);
        using var zip = System.IO.Compression.ZipFile.OpenRead(path);
        return [.. zip.Entries.Select(entry =>
        {
            using var bytes = new MemoryStream();
            using Stream from = entry.Open();
            from.CopyTo(bytes);
            return new MutableFile(entry.FullName, bytes.ToArray());
        })];
    }

    /// <summary>The example's table; what stands in quotes there are notes, which may hold commas.</summary>
    private static string[][] Cells(string table) =>
        [.. File.ReadAllLines(Project.PathOf($"schemas/v1/example/{table}.csv")).Select(line => QuotedNote().Replace(line, "a note").Split(','))];

    /// <summary>Under a name and of a group of its own.</summary>
    private static string Renamed(string text, string name) => text
        .Replace("example-meadow-and-wood", name, StringComparison.Ordinal).Replace("\"example-group\"", $"\"g-{name}\"", StringComparison.Ordinal)
        .Replace("example-school-2024", name, StringComparison.Ordinal).Replace("contributor: example-school", $"contributor: g-{name}", StringComparison.Ordinal);

    private static int Setting(string variable, int usual) => int.Parse(Environment.GetEnvironmentVariable(variable) ?? $"{usual}", CultureInfo.InvariantCulture);

    [GeneratedRegex("\"[^\"]*\"")]
    private static partial Regex QuotedNote();
}
