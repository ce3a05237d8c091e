using System.IO.Compression;
using System.Net;
using System.Text;
using Microsoft.AspNetCore.Builder;

namespace DecayAtlas.EndToEnd;

/// <summary>
/// What a sender typed into a contribution that was refused reaches the quarantine, and no page, record, summary, metric or line of a run.
/// </summary>
public sealed class NothingTypedIsPublic : NightWork
{
    private const string Pages = "pages: { title: An atlas, languages: [en, de] }\n";

    private const string LocalWords = """
        version: 1
        words: { ecosystem: { "Wilhelmine Quastenflosser": forest }, treatment: { "tel 0664 5550199": warmed } }

        """;

    private IEnumerable<string> Reports =>
        Directory.EnumerateFiles(Work.PathOf("atlas/quarantine"), "report.md", SearchOption.AllDirectories).Select(File.ReadAllText);

    private static readonly string[] Private = ["intake", "quarantine", "cache", "mails"];

    [Fact]
    public void A_table_without_its_header_tells_nobody_where_a_sensitive_site_is_and_who_lives_there()
    {
        GivenConfiguration(Pages);
        GivenContribution("sound", "g1");
        GivenContribution("headless", "g2", edit: (file, text) => file == "sites.csv"
            ? text[(text.IndexOf('\n', StringComparison.Ordinal) + 1)..]
                .Replace("meadow-1,47.31025,-11.20417,15,no", "hut,48.76543,-12.34567,15,yes", StringComparison.Ordinal)
                .Replace("north-facing slope", "behind Wilhelmine Quastenflosser's house tel 0664 5550199", StringComparison.Ordinal)
            : text);

        (int code, string shown) = Run("run");

        Assert.Equal(1, code);
        AssertTellsNothing("what the run printed", shown);
        AssertPublicFilesTellNothing();
        string english =
            File.ReadAllText(Assert.Single(Directory.GetFiles(Work.PathOf("atlas/current/pages/contributions"), "waiting-*.html")));
        string german =
            File.ReadAllText(Assert.Single(Directory.GetFiles(Work.PathOf("atlas/current/pages/de/contributions"), "waiting-*.html")));
        Assert.Contains("table sites, row 1<", english, StringComparison.Ordinal);
        Assert.Contains("A first row with the names of the columns", english, StringComparison.Ordinal);
        Assert.Contains("Tabelle sites, Zeile 1<", german, StringComparison.Ordinal);
        Assert.Contains("Eine erste Zeile mit den Namen der Spalten", german, StringComparison.Ordinal);
        // the sender is told what to do, and the curator what it was called
        string list = File.ReadAllText(Work.PathOf("atlas/quarantine/waiting.md"));
        Assert.Contains("write the header as the first line", Assert.Single(Reports), StringComparison.Ordinal);
        Assert.Contains("write the header as the first line", list, StringComparison.Ordinal);
        Assert.Contains("headless-1", list, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_text_in_any_place_of_any_format_stays_in_the_quarantine()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Windows has few of these names");
        GivenConfiguration(Pages + "vocabulary: words.yaml\n");
        Write("words.yaml", LocalWords);
        // it sorts before the others, so that it has its id first
        GivenContribution("sound", "g1", edit: WithTextsThatAreNotPublished);
        Write("inbox/sound-1/results.csv", Results());
        Directory.Move(Work.PathOf("inbox/sound-1"), Work.PathOf("inbox/!sound"));
        int entries = new Canaries(Work.PathOf("inbox")).Write();
        Assert.True(entries > 500, $"only {entries}");

        string[][] night =
            [["run", "--dry-run"], ["run", "--dry-run", "--json"], ["run", "--log-json"], ["verify"], ["run"], ["verify", "--json"]];
        foreach (string[] arguments in night)
        {
            (int code, string text) = Run(arguments);
            Assert.True(code is 0 or 1, $"{string.Join(' ', arguments)}: {text}");
            AssertTellsNothing(string.Join(' ', arguments), text);
        }

        AssertPublicFilesTellNothing();
        Assert.Equal(1, Count("contributions"));
        Directory.Delete(Work.PathOf("atlas"), recursive: true);   // all of it is news again
        (int codeOfJson, string json) = Run("run", "--json");
        Assert.Equal(1, codeOfJson);
        AssertTellsNothing("run --json", json);
        AssertPublicFilesTellNothing();
        await AssertTheServerTellsNothingAsync();
        // what the test looks for is where it may be, so that the test can fail
        string list = File.ReadAllText(Work.PathOf("atlas/quarantine/waiting.md"));
        foreach (string telling in Canaries.Telling.Except(["48,76543"]))
        {
            Assert.Contains(telling, string.Concat(Reports), StringComparison.OrdinalIgnoreCase);
            Assert.Contains(telling, list, StringComparison.OrdinalIgnoreCase);
        }
    }

    [Fact]
    public void The_list_of_what_waits_is_private_the_same_for_the_same_quarantine_and_in_nobodys_way()
    {
        GivenConfiguration();
        GivenContribution("sound", "g1");
        ExpectRun(0, "Release");
        GivenContribution("broken", "g2",
            edit: (file, text) => file == "bags.csv" ? text.Replace("2024-", "2024-13-", StringComparison.Ordinal) : text);
        if (!OperatingSystem.IsWindows())
            File.CreateSymbolicLink(Work.PathOf("inbox/a link"), Work.PathOf("inbox/sound-1"));
        ExpectRun(1, "quarantine/waiting.md");

        string list = File.ReadAllText(Work.PathOf("atlas/quarantine/waiting.md"));
        string hash = Path.GetFileName(Directory.GetDirectories(Work.PathOf("atlas/quarantine")).Single());
        Assert.Contains($"## {hash[..12]}: broken-1", list, StringComparison.Ordinal);
        Assert.Contains("Contribution id: broken", list, StringComparison.Ordinal);
        Assert.Contains($"`{hash}/report.md`", list, StringComparison.Ordinal);
        Assert.Contains("2024-13-05", list, StringComparison.Ordinal);
        string summary = File.ReadAllText(Work.PathOf("atlas/runs/latest-summary.txt"));
        Assert.Contains($"broken ({hash[..12]}): table bags, row 2, column buried_on: ", summary, StringComparison.Ordinal);
        if (!OperatingSystem.IsWindows())
        {
            Assert.Contains("### a link", list, StringComparison.Ordinal);
            const UnixFileMode ownerOnly = UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute;
            Assert.Equal(ownerOnly, File.GetUnixFileMode(Work.PathOf("atlas/quarantine")));
        }

        Assert.Equal(0, Run("verify").Code);
        Assert.Equal(0, Run("prune", "--keep", "1").Code);
        Run("run");
        Assert.Equal(list, File.ReadAllText(Work.PathOf("atlas/quarantine/waiting.md")));

        Directory.Delete(Work.PathOf("inbox"), recursive: true);
        GivenContribution("broken", "g2", revision: 2);
        ExpectRun(0, "Release");
        Assert.Contains("Nothing waits.", File.ReadAllText(Work.PathOf("atlas/quarantine/waiting.md")), StringComparison.Ordinal);
    }

    /// <summary>Of an accepted contribution too, what is for people and not for the release stays: contact data, titles, notes, names of
    /// files; and of its sensitive site all that the sender worded: local words mapped or not, treatments, methods of samples.</summary>
    private static string WithTextsThatAreNotPublished(string file, string text)
    {
        if (file is "sites.csv" or "bags.csv")
        {
            string[] lines = text.TrimEnd('\n').Split('\n');
            string[] cells = lines[^1].Split(',');
            cells[Array.IndexOf(lines[0].Split(','), "notes")] = "Krummgasse 17";
            lines[^1] = string.Join(',', cells);
            text = string.Join('\n', lines) + "\n";
        }

        if (file == "sites.csv")
        {
            return Changed(
                text, "forest,forestry,none,,265,",
                "Wilhelmine Quastenflosser,behind Krummgasse 17,at Quastenflosser's,tel 0664 5550199,265,");
        }
        if (file == "bags.csv")
        {
            text = Changed(text, "F-07,fast,,4.16,", "F-07,fast,tel 0664 5550199,4.16,");
            return Changed(text, "S-03,slow,,4.50,", "S-03,slow,fenced at 48.76543 -12.34567,4.50,");
        }
        if (file == "samples.csv")
        {
            return Changed(text, "EXAMPLE000002,a public sequence archive,,,,,,,,",
                "Krummgasse17,Quastenflosser,20,2.1,counted by Quastenflosser,1e9,,in Krummgasse 17,0.1,ask 0664 5550199");
        }

        if (file != "datapackage.json")
            return text;
        System.Text.Json.Nodes.JsonNode root = System.Text.Json.Nodes.JsonNode.Parse(text)!;
        (root["title"], root["description"], root["keywords"]) = ("Wilhelmine Quastenflosser", "tel 0664 5550199", "Krummgasse 17");
        root["contributors"] = System.Text.Json.Nodes.JsonNode.Parse("""
            [{ "title": "Wilhelmine Quastenflosser", "email": "w.quastenflosser@example.org", "path": "Krummgasse 17", "role": "0664 5550199" }]
            """);
        root["resources"]!.AsArray().Add(
            new System.Text.Json.Nodes.JsonObject { ["name"] = "results", ["path"] = "results.csv", ["title"] = "Krummgasse 17" });
        root["resources"]![0]!["title"] = "48.76543 -12.34567";
        return root.ToJsonString();
    }

    /// <summary>Means of the example's two sites: notes in both rows, and a treatment of the sensitive one.</summary>
    private static string Results()
    {
        string[] lines = File.ReadAllLines(Project.PathOf("schemas/v1/example-results/results.csv"));
        return string.Join('\n', lines[0],
            Changed(lines[1], ",bog-1,", ",meadow-1,") + "behind Krummgasse 17",
            Changed(lines[2], ",heath-1,,", ",wood-1,at Quastenflosser's,") + "ask Wilhelmine Quastenflosser tel 0664 5550199") + "\n";
    }

    private static string Changed(string text, string old, string @new)
    {
        Assert.Contains(old, text, StringComparison.Ordinal);
        return text.Replace(old, @new, StringComparison.Ordinal);
    }

    private async Task AssertTheServerTellsNothingAsync()
    {
        await using WebApplication server =
            AtlasServer.Build(new ServedAtlas(Work.PathOf("atlas")), new ServingOptions(IPAddress.Loopback, 0));
        await server.StartAsync(TestContext.Current.CancellationToken);
        using HttpClient client = new() { BaseAddress = new Uri(server.Urls.Single()) };
        string pages = Work.PathOf("atlas/current/pages"),
            release = Path.GetFileName(Directory.GetDirectories(Work.PathOf("atlas/releases")).Single());
        string[] waiting = [.. Directory.EnumerateFiles(pages, "waiting-*.html", SearchOption.AllDirectories).Take(20)
            .Select(file => $"/releases/{release}/pages/{Path.GetRelativePath(pages, file)}")];
        Assert.NotEmpty(waiting);
        string[] others = ["/", "/health", "/releases", "/no/such/place", $"/releases/{release}/pages/quality.html"];
        foreach (string address in others.Concat(waiting))
        {
            using HttpResponseMessage answer =
                await client.GetAsync(new Uri(address, UriKind.Relative), TestContext.Current.CancellationToken);
            Assert.True(answer.IsSuccessStatusCode || address == "/no/such/place", $"{address}: {answer.StatusCode}");
            AssertTellsNothing(address, await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
        }
    }

    private void AssertPublicFilesTellNothing()
    {
        string atlas = Work.PathOf("atlas");
        string[] files = [.. Directory.EnumerateFiles(atlas, "*", SearchOption.AllDirectories)
            .Where(file => !Private.Contains(Path.GetRelativePath(atlas, file).Split(Path.DirectorySeparatorChar)[0]))];
        Assert.Contains(files, file => file.EndsWith("latest-summary.txt", StringComparison.Ordinal));
        Assert.Contains(files, file => Path.GetFileName(file).StartsWith("waiting-", StringComparison.Ordinal));
        Assert.Contains(files, file => Path.GetFileName(file) == "tables.xlsx");
        foreach (string file in files)
        {
            AssertTellsNothing(file, Path.GetRelativePath(atlas, file));
            AssertTellsNothing(file, File.ReadAllText(file, Encoding.Latin1));
            if (file.EndsWith(".parquet", StringComparison.Ordinal))   // compressed, so that its bytes tell nothing of its texts
            {
                AssertTellsNothing(file,
                    string.Join('\n', Work.Query($"SELECT t::VARCHAR FROM read_parquet('{file}') t").Select(row => row[0])));
            }

            if (Path.GetExtension(file) is ".zip" or ".xlsx")
            {
                using ZipArchive packed = ZipFile.OpenRead(file);
                foreach (ZipArchiveEntry entry in packed.Entries)
                {
                    using StreamReader text = new(entry.Open(), Encoding.Latin1);
                    AssertTellsNothing($"{file}/{entry.FullName}", text.ReadToEnd());
                }
            }
        }
    }

    private static void AssertTellsNothing(string where, string text)
    {
        foreach (string telling in Canaries.Telling)
        {
            int at = text.IndexOf(telling, StringComparison.OrdinalIgnoreCase);
            Assert.True(at < 0, at < 0 ? "" : $"{where} tells: {text[Math.Max(0, at - 100)..Math.Min(text.Length, at + 60)]}");
        }
    }
}
