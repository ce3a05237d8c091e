using System.Diagnostics;
using System.Globalization;
using DecayAtlas.Decomposition;
using DecayAtlas.Pages;
using DecayAtlas.Pages.Reading;
using DecayAtlas.Pages.Site;
using Microsoft.Playwright;

namespace DecayAtlas.Benchmarks;

/// <summary>Pages of many sites: how long they take to make, how large they are, and when a browser paints them first. There is no peer.</summary>
internal static class PagesBenchmark
{
    private const int BurialsASite = 5, SitesAGroup = 20;

    private static readonly string[] Ecosystems = ["forest", "grassland", "cropland", "heath", "wetland"];
    private static readonly string[] Covariates = ["air_temperature", "precipitation", "soil_ph", "clay", "elevation", "soil_moisture"];

    public static int Run(int sites)
    {
        string folder = Directory.CreateTempSubdirectory("decayatlas-pages-").FullName;
        try
        {
            ReleaseData data = Invent(sites);
            var inputs = new PagesInputs(data, null, [new FlagMeaning("exposure-long", "protocol", "suspect", "bag", "The bag lay long.", "Check the dates.")], [], folder, null, null, null, [], new Dictionary<string, string>());
            var options = new PagesOptions("A large atlas", "A campaign", ["en"], ClimateNames.Of(data, null, null));
            var clock = Stopwatch.StartNew();
            long bytes = 0;
            int files = 0;
            foreach (SiteFile file in SiteMaker.Make(inputs, options))
            {
                string path = Path.Combine(folder, file.Path);
                Directory.CreateDirectory(Path.GetDirectoryName(path)!);
                File.WriteAllText(path, file.Text);
                bytes += file.Text.Length;
                files++;
            }

            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{sites} sites, {data.Burials.Count} burials: {data.Flags.Count} flags, {data.Contributions.Count} contributions, one language: {files} files, {bytes / 1048576.0:0.0} MiB, made in {clock.Elapsed.TotalSeconds:0.0} s; peak memory of it all {Process.GetCurrentProcess().PeakWorkingSet64 / 1048576.0:0} MiB"));
            PaintAsync(folder).GetAwaiter().GetResult();
            return 0;
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static async Task PaintAsync(string folder)
    {
        using IPlaywright playwright = await Playwright.CreateAsync();
        await using IBrowser browser = await playwright.Chromium.LaunchAsync(new() { ExecutablePath = "/usr/bin/chromium", Args = ["--headless", "--no-sandbox", "--disable-gpu"] });
        foreach (string path in new[] { "index.html", "map.html", "quality.html", "contributions/index.html", "contributions/c-0.html", "class/c-0.html" })
        {
            IPage page = await browser.NewPageAsync();
            var clock = Stopwatch.StartNew();
            await page.GotoAsync(new Uri(Path.Combine(folder, path)).AbsoluteUri);
            if (path == "map.html")
                await page.WaitForSelectorAsync("html[data-map=ready]", new() { State = WaitForSelectorState.Attached });
            double ready = clock.Elapsed.TotalMilliseconds;
            double paint = await page.EvaluateAsync<double>("new Promise(done => new PerformanceObserver(list => list.getEntries().forEach(e => e.name === 'first-contentful-paint' && done(e.startTime))).observe({ type: 'paint', buffered: true }))");
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{path} ({new FileInfo(Path.Combine(folder, path)).Length / 1024} KiB): first contentful paint after {paint:0} ms, ready after {ready:0} ms"));
            await page.CloseAsync();
        }
    }

    private static ReleaseData Invent(int sites)
    {
        var random = new RandomStream(11);
        var (places, burials, bags, values, groups) = (new List<SiteFacts>(), new List<BurialFacts>(), new List<BagFacts>(), new List<CovariateFacts>(), new List<ContributionFacts>());
        for (int i = 0; i < sites; i++)
        {
            string group = $"group-{i / SitesAGroup}", contribution = $"c-{i / SitesAGroup}", key = $"{group}/S{i % SitesAGroup:00}";
            double warmth = -2 + 28 * random.NextUniform();
            places.Add(new SiteFacts(key, group, contribution, -55 + 125 * random.NextUniform(), -179 + 358 * random.NextUniform(), 30, false, "XA", Ecosystems[i % Ecosystems.Length], "natural", "none", null, 100, "accepted", null));
            values.AddRange(Covariates.Select((c, n) => new CovariateFacts(key, c, n == 0 ? warmth : 100 * random.NextUniform(), n == 0 ? "degC" : n == 1 ? "mm/yr" : "x", "bilinear", "sampled", new string('a', 64))));
            if (i % SitesAGroup == 0)
                groups.Add(new ContributionFacts(contribution, 1, group, "2024", null, new DateOnly(2024, 7, 1), "CC-BY-4.0", new string('b', 64), SitesAGroup, SitesAGroup * BurialsASite * 2, SitesAGroup * BurialsASite));
            for (int b = 0; b < BurialsASite; b++)
            {
                string id = $"{i % SitesAGroup:00}-{b}";
                double k = 0.006 * Math.Pow(2, warmth / 10) * (0.8 + 0.4 * random.NextUniform());
                burials.Add(new BurialFacts(contribution, id, key, "2024", "1", null, id + "F", id + "S", new DateOnly(2024, 3, 1), new DateOnly(2024, 5, 30), 90, 8, 0.4, 0.75, 0.25, 0.02, null, k, 0.001, null, 0.55, "accepted", null));
                bags.Add(new BagFacts(contribution, id + "F", id, key, "L1", "fast", 2.1, 0.9, "litter", "intact", 0.4, null, "accepted", null));
                bags.Add(new BagFacts(contribution, id + "S", id, key, "L2", "slow", 2.1, 1.6, "litter", "intact", 0.75, null, "accepted", null));
            }
        }

        // one bag in twenty is flagged, which is more than the demo has
        FlagFacts[] flags = [.. bags.Where((_, i) => i % 20 == 0).Select(b => new FlagFacts(b.ContributionId, "bag", b.BagId, "exposure-long", "suspect", 130, 120, "d", "The bag lay 130 days.", null, null, null))];
        return new ReleaseData("benchmark", places, burials, bags, values, groups, flags);
    }
}
