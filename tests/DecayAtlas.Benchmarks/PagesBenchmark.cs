using System.Diagnostics;
using System.Globalization;
using Microsoft.Playwright;

namespace DecayAtlas.Benchmarks;

/// <summary>Pages of many sites: how long they take to make, how large they are, and when a browser paints them first. There is no
/// peer.</summary>
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
            PagesInputs inputs = new(data,
                null, [new FlagMeaning("exposure-long", "protocol", "suspect", "bag", "The bag lay long.", "Check the dates.")], [],
                folder, null, null, null, [], new Dictionary<string, string>());
            PagesOptions options = new("A large atlas", "A campaign", ["en"], ClimateNames.Of(data, null, null));
            Stopwatch clock = Stopwatch.StartNew();
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

            Console.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture, $"{sites} sites, {data.Burials.Count} burials: {data.Flags.Count} flags, "
                    + $"{data.Contributions.Count} contributions, one language: {files} files, {bytes / 1048576.0:0.0} MiB, made in "
                    + $"{clock.Elapsed.TotalSeconds:0.0} s; peak memory of it all "
                    + $"{Process.GetCurrentProcess().PeakWorkingSet64 / 1048576.0:0} MiB"));
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
        await using IBrowser browser =
            await playwright.Chromium
                .LaunchAsync(new() { ExecutablePath = "/usr/bin/chromium", Args = ["--headless", "--no-sandbox", "--disable-gpu"] });
        foreach (string path in new[] { "index.html", "map.html", "quality.html", "contributions/index.html", "contributions/c-0.html",
            "class/c-0.html" })
        {
            IPage page = await browser.NewPageAsync();
            Stopwatch clock = Stopwatch.StartNew();
            await page.GotoAsync(new Uri(Path.Combine(folder, path)).AbsoluteUri);
            if (path == "map.html")
                await page.WaitForSelectorAsync("html[data-map=ready]", new() { State = WaitForSelectorState.Attached });
            double ready = clock.Elapsed.TotalMilliseconds;
            double paint =
                await page.EvaluateAsync<double>(
                    "new Promise(done => new PerformanceObserver(list => list.getEntries().forEach(e => e.name === "
                    + "'first-contentful-paint' && done(e.startTime))).observe({ type: 'paint', buffered: true }))");
            Console.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture, $"{path} ({new FileInfo(Path.Combine(folder, path)).Length / 1024} KiB): first "
                    + $"contentful paint after {paint:0} ms, ready after {ready:0} ms"));
            await page.CloseAsync();
        }
    }

    private static ReleaseData Invent(int sites)
    {
        RandomStream random = new(11);
        List<ReleasedSite> places = [];
        List<ReleasedBurial> burials = [];
        List<ReleasedBag> bags = [];
        List<ReleasedCovariate> values = [];
        List<ReleasedContribution> groups = [];
        for (int i = 0; i < sites; i++)
        {
            string group = $"group-{i / SitesAGroup}", contribution = $"c-{i / SitesAGroup}", key = $"{group}/S{i % SitesAGroup:00}";
            double warmth = -2 + 28 * random.NextUniform();
            places.Add(
                HandMade.Site(group, $"S{i % SitesAGroup:00}",
                    contribution, -55 + 125 * random.NextUniform(), -179 + 358 * random.NextUniform())
                    with
                { Ecosystem = Ecosystems[i % Ecosystems.Length] });
            values.AddRange(
                Covariates.Select((c, n) =>
                    HandMade.Covariate(key, c, n == 0 ? warmth : 100 * random.NextUniform(), n == 0 ? "degC" : n == 1 ? "mm/yr" : "x")));
            if (i % SitesAGroup == 0)
            {
                groups.Add(
                    HandMade.Contribution(contribution, group, SitesAGroup, SitesAGroup * BurialsASite * 2, SitesAGroup * BurialsASite));
            }

            for (int b = 0; b < BurialsASite; b++)
            {
                string id = $"{i % SitesAGroup:00}-{b}";
                double k = 0.006 * Math.Pow(2, warmth / 10) * (0.8 + 0.4 * random.NextUniform());
                burials.Add(HandMade.Burial(contribution, key, id, k));
                bags.Add(HandMade.Bag(contribution, key, id, id + "-F", "L1", "fast", 0.9, 0.4));
                bags.Add(HandMade.Bag(contribution, key, id, id + "-S", "L2", "slow", 1.6, 0.75));
            }
        }

        // one bag in twenty is flagged, which is more than the demo has
        ReleasedFlag[] flags = [.. bags.Where((_, i) => i % 20 == 0)
            .Select(b => HandMade.Flag(b.ContributionId, "bag", b.BagId, "exposure-long", "suspect", "The bag lay 130 days."))];
        return new ReleaseData("benchmark", places, burials, bags, values, groups, flags,
            groups.Select(g => HandMade.SlowLot(g.ContributionId, "L2", 0.55)));
    }
}
