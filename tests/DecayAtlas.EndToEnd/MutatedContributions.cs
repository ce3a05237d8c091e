using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Text.Json;

namespace DecayAtlas.EndToEnd;

/// <summary>
/// Sound contributions of every kind, each with one to five things done to it, from a seed each. A night takes or quarantines every one
/// of them, in the time that sound ones take. DECAYATLAS_MUTATIONS sets how many; DECAYATLAS_MUTATIONS_FROM the first seed.
/// </summary>
public sealed class MutatedContributions : NightWork
{
    private static readonly int HowMany = Setting("DECAYATLAS_MUTATIONS", 100), First = Setting("DECAYATLAS_MUTATIONS_FROM", 1);

    [Fact]
    public async Task Each_is_accepted_or_quarantined_and_what_comes_of_them_can_be_checked_and_served()
    {
        MutatedInbox.Write(Work.PathOf("clean-inbox"), First, HowMany, mutate: false);
        MutatedInbox.Write(Work.PathOf("inbox"), First, HowMany, mutate: true);
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

        string[] all = [.. Directory.EnumerateFileSystemEntries(Work.PathOf("inbox"))
            .Where(p => !p.EndsWith(".mapping.yaml", StringComparison.Ordinal)).Order(StringComparer.Ordinal)];
        foreach (string path in all.Where((_, i) => i % Math.Max(1, HowMany / 50) == 0).Take(100))
        {
            (StringWriter? output, StringWriter? error) = (new StringWriter(), new StringWriter());
            int code = Cli.CommandLine.Run(["check", path], output, error);
            // a folder that lost its descriptor is taken for one that was named by mistake
            bool isNoContribution = Directory.Exists(path) && !File.Exists(Path.Combine(path, "datapackage.json"));
            Assert.True(code is 0 or 1 || (code == 2 && isNoContribution), $"check {path}: exit code {code}: {error}");
            ExpectNoMistake($"{output}{error}", $"check {path}");
        }

        await ExpectServed();
    }

    private async Task ExpectServed()
    {
        await using Microsoft.AspNetCore.Builder.WebApplication server = AtlasServer.Build(
            new ServedAtlas(Work.PathOf("atlas")), new ServingOptions(IPAddress.Loopback, 0), ServedDemo.ModelOf(Work.PathOf("p.yaml")));
        await server.StartAsync(TestContext.Current.CancellationToken);
        using HttpClient client = new();
        string pages = Work.PathOf("atlas/current/pages");
        string[] paths = [.. Directory.EnumerateFiles(pages, "*.html", SearchOption.AllDirectories)
            .Select(p => Path.GetRelativePath(pages, p).Replace('\\', '/')).Order(StringComparer.Ordinal)];
        Assert.True(paths.Length > 5, $"{paths.Length} pages");
        foreach (string path in paths.Where((_, i) => i % Math.Max(1, paths.Length / 50) == 0))
        {
            using HttpResponseMessage answer =
                await client.GetAsync(
                    new Uri($"{server.Urls.Single()}/releases/current/pages/"
                    + $"{string.Join('/', path.Split('/').Select(Uri.EscapeDataString))}"),
                        TestContext.Current.CancellationToken);
            Assert.True(answer.StatusCode == HttpStatusCode.OK, $"{path}: {answer.StatusCode}");
        }

        await server.StopAsync(TestContext.Current.CancellationToken);
    }

    /// <summary>How many things of the inbox the last run took a decision on.</summary>
    private int Taken()
    {
        using JsonDocument record =
            JsonDocument.Parse(
                File.ReadAllText(Directory.GetFiles(Work.PathOf("atlas/runs"), "*.json").Order(StringComparer.Ordinal).Last()));
        return record.RootElement.GetProperty("intake").EnumerateObject().Sum(p => p.Value.GetInt32());
    }

    private static void ExpectNoMistake(string text, string what) =>
        Assert.False(text.Contains("made a mistake", StringComparison.Ordinal)
            || text.Contains("   at DecayAtlas.", StringComparison.Ordinal), $"{what}: {text}");

    private (CommandResult Result, TimeSpan Time) Timed(params string[] args)
    {
        Stopwatch clock = Stopwatch.StartNew();
        return (Work.DecayAtlas(args), clock.Elapsed);
    }

    private static int Setting(string variable, int usual) =>
        int.Parse(Environment.GetEnvironmentVariable(variable) ?? $"{usual}", CultureInfo.InvariantCulture);
}
