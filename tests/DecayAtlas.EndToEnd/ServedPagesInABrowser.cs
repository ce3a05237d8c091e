using System.Globalization;
using System.Net;
using System.Text.RegularExpressions;

namespace DecayAtlas.EndToEnd;

/// <summary>The demo's pages as a person on the lab network sees them: through the server, under its policies, in Chromium.</summary>
public sealed partial class ServedPagesInABrowser(ServedDemo served, Browser browser) : IClassFixture<ServedDemo>, IClassFixture<Browser>
{
    private string Release => served.Address + "/releases/" + new AtlasFolder(served.Workspace.PathOf("atlas")).CurrentRelease();

    private string Pages => Release + "/pages";

    [Fact]
    public async Task Every_kind_of_page_loads_without_an_error_or_an_outside_request()
    {
        await using WatchedPage window = await browser.OpenAsync(home: served.Address + "/");
        foreach (string path in PagesInABrowser.Kinds.SelectMany(k => new[] { k, "de/" + k }))
            await window.GoToAsync(Pages, path);
        await window.Page.GotoAsync(served.Address + "/releases/");
        Assert.Empty(window.Complaints);
    }

    [Fact]
    public async Task Who_types_the_address_comes_to_the_overview_and_from_there_to_the_map()
    {
        await using WatchedPage window = await browser.OpenAsync(home: served.Address + "/");
        await window.Page.GotoAsync(served.Address);
        Assert.Equal(Pages + "/index.html", window.Page.Url);
        await window.Page.Locator("nav a[href$='map.html']").First.ClickAsync();
        await window.Page
            .WaitForSelectorAsync("html[data-map=ready][data-prediction=drawn]",
                new() { State = Microsoft.Playwright.WaitForSelectorState.Attached });
        Assert.Empty(window.Complaints);
    }

    [Fact]
    public async Task A_filter_and_a_site_work_as_they_do_from_disk()
    {
        await using WatchedPage window = await browser.OpenAsync(home: served.Address + "/");
        await window.GoToAsync(Pages, "map.html");
        await window.Page.SelectOptionAsync("#ecosystem", "forest");
        object? forests =
            served.Workspace
                .Query("SELECT count(*) FROM read_parquet('atlas/current/sites/**/*.parquet') WHERE ecosystem = 'forest'")[0][0];
        await window.Page.WaitForSelectorAsync(string.Create(CultureInfo.InvariantCulture, $"#sites-shown[data-count='{forests}']"));
        await window.GoToAsync(Pages, "map.html#site=lantern-hill-farm%2FS01");
        await window.Page.WaitForSelectorAsync("#site-name");
        Assert.True(await window.Page.Locator("#site svg").CountAsync() > 0);
        Assert.Empty(window.Complaints);
    }

    [Fact]
    public async Task Accessibility_is_as_from_disk()
    {
        await using WatchedPage window = await browser.OpenAsync(bypassPolicy: true, home: served.Address + "/");
        List<string> faults = new();
        // the files are those that are tested from disk; the map asks the server
        foreach (string path in new[] { "index.html", "map.html" })
        {
            await window.GoToAsync(Pages, path);
            faults.AddRange(await Accessibility.SeriousFaultsAsync(window.Page, path));
        }

        await window.Page.GotoAsync(served.Address + "/releases/");
        faults.AddRange(await Accessibility.SeriousFaultsAsync(window.Page, "releases"));
        Assert.Empty(faults);
    }

    [Fact]
    public async Task A_script_that_somebody_slipped_into_a_page_does_not_run()
    {
        await using WatchedPage window = await browser.OpenAsync(home: served.Address + "/");
        await window.GoToAsync(Pages, "index.html");
        await window.Page
            .EvaluateAsync(
                "() => { const s = document.createElement('script'); s.textContent = 'window.slipped = true'; document.body.append(s); }");
        Assert.False(await window.Page.EvaluateAsync<bool>("() => window.slipped === true"));
        Assert.Contains(window.Complaints, c => c.Contains("Content Security Policy", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Every_link_of_every_page_is_answered()
    {
        using HttpClient client = new(new HttpClientHandler { AllowAutoRedirect = false });
        HashSet<string> asked = new();
        string folder = served.Workspace.PathOf("atlas/current/pages");
        foreach (string page in Directory.EnumerateFiles(folder, "*.html", SearchOption.AllDirectories))
        {
            Uri here = new($"{Pages}/{Path.GetRelativePath(folder, page)}");
            foreach (Match link in Link().Matches(await File.ReadAllTextAsync(page, TestContext.Current.CancellationToken)))
                asked.Add(new Uri(here, link.Groups[1].Value.Split('#')[0]).AbsoluteUri);
        }

        Assert.True(asked.Count > 100);
        foreach (string target in asked)
        {
            using HttpRequestMessage request = new(HttpMethod.Head, target);
            using HttpResponseMessage answer = await client.SendAsync(request, TestContext.Current.CancellationToken);
            Assert.True(answer.StatusCode == HttpStatusCode.OK, $"{target}: {answer.StatusCode}");
        }
    }

    [GeneratedRegex("(?:href|src)=\"([^\":]*)\"")]
    private static partial Regex Link();
}
