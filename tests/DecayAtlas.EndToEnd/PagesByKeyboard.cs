using Microsoft.Playwright;

namespace DecayAtlas.EndToEnd;

/// <summary>The demo's pages without a mouse, and for those whom movement makes ill.</summary>
public class PagesByKeyboard(DemoRun demo, Browser browser) : IClassFixture<Browser>
{
    private string Folder => Path.GetFullPath(demo.Workspace.PathOf("atlas/current/pages"));

    [Fact]
    public async Task A_site_opened_from_the_list_gets_the_focus_and_Escape_gives_it_back()
    {
        await using WatchedPage window = await browser.OpenAsync();
        await window.GoToAsync(Folder, "map.html");
        await window.Page.Locator("#listing summary").FocusAsync();
        await window.Page.Keyboard.PressAsync("Enter");
        ILocator third = window.Page.Locator("#list button").Nth(2);
        await third.FocusAsync();
        await window.Page.Keyboard.PressAsync("Enter");
        await window.Page.WaitForSelectorAsync("#site:not([hidden])");
        Assert.Equal("site-name", await FocusAsync(window, "id"));
        await window.Page.Keyboard.PressAsync("Escape");
        Assert.True(await window.Page.Locator("#site").IsHiddenAsync());
        Assert.Equal(await third.GetAttributeAsync("data-site"), await FocusAsync(window, "dataset.site"));
    }

    [Fact]
    public async Task A_mark_on_the_map_opens_its_site_with_Enter_and_gets_the_focus_back()
    {
        await using WatchedPage window = await browser.OpenAsync();
        await window.GoToAsync(Folder, "map.html");
        ILocator mark = window.Page.Locator(".pin").First;
        string name = (await mark.GetAttributeAsync("aria-label"))!;
        await mark.FocusAsync();
        await window.Page.Keyboard.PressAsync("Enter");
        await window.Page.WaitForSelectorAsync("#site:not([hidden])");
        Assert.StartsWith(await window.Page.InnerTextAsync("#site .over"), name, StringComparison.Ordinal);
        await window.Page.Keyboard.PressAsync("Escape");
        Assert.Equal(name, await window.Page.EvaluateAsync<string>("document.activeElement.getAttribute('aria-label')"));
    }

    [Fact]
    public async Task The_map_moves_with_arrows_and_comes_closer_with_plus_and_by_a_bundle()
    {
        await using WatchedPage window = await browser.OpenAsync();
        await window.Page.EmulateMediaAsync(new() { ReducedMotion = ReducedMotion.Reduce });
        await window.GoToAsync(Folder, "map.html");
        string scale = await window.Page.InnerTextAsync(".leaflet-control-scale-line");
        await window.Page.FocusAsync("#map");
        await window.Page.Keyboard.PressAsync("+");
        await window.Page.WaitForFunctionAsync("was => document.querySelector('.leaflet-control-scale-line').innerText !== was", scale);
        string closer = await window.Page.InnerTextAsync(".leaflet-control-scale-line");
        Assert.True(Metres(closer) < Metres(scale), $"{scale} became {closer}");

        string place = await PlaceAsync(window);
        await window.Page.Keyboard.PressAsync("ArrowRight");
        await window.Page.WaitForFunctionAsync("was => document.querySelector('.leaflet-map-pane').style.transform !== was", place);

        await window.Page.Locator(".bundle").First.FocusAsync();
        await window.Page.Keyboard.PressAsync("Enter");
        await window.Page.WaitForFunctionAsync("was => document.querySelector('.leaflet-control-scale-line').innerText !== was", closer);
        Assert.Equal("map", await FocusAsync(window, "id"));
        Assert.Empty(window.Complaints);
    }

    [Fact]
    public async Task The_first_stop_of_every_page_leads_past_the_head_and_every_stop_is_seen()
    {
        await using WatchedPage window = await browser.OpenAsync();
        foreach (string path in new[] { "index.html", "map.html", "quality.html", "de/contributions/index.html" })
        {
            await window.GoToAsync(Folder, path);
            await window.Page.Keyboard.PressAsync("Tab");
            Assert.Equal("skip", await FocusAsync(window, "className"));
            await window.Page.Keyboard.PressAsync("Tab");
            Assert.NotEqual("none", await window.Page.EvaluateAsync<string>("getComputedStyle(document.activeElement).outlineStyle"));
            await window.Page.FocusAsync(".skip");
            await window.Page.Keyboard.PressAsync("Enter");
            Assert.Equal("main", await FocusAsync(window, "id"));
            // the mouse shows where it is by itself
            await window.Page.ClickAsync("#light");
            Assert.Equal("light", await FocusAsync(window, "id"));
            Assert.Equal("none", await window.Page.EvaluateAsync<string>("getComputedStyle(document.activeElement).outlineStyle"));
        }
    }

    [Fact]
    public async Task Nothing_moves_for_those_who_asked_for_less_motion()
    {
        await using WatchedPage window = await browser.OpenAsync();
        await window.GoToAsync(Folder, "map.html");
        ILocator moving = window.Page.Locator(".leaflet-marker-pane .leaflet-zoom-animated");
        Assert.NotEqual(0, await moving.CountAsync());
        await window.Page.EmulateMediaAsync(new() { ReducedMotion = ReducedMotion.Reduce });
        await window.GoToAsync(Folder, "map.html");
        Assert.Equal(0, await moving.CountAsync());
        Assert.Empty(
            await window.Page
                .EvaluateAsync<string[]>(
                    "Array.from(document.querySelectorAll('a, button')).filter(e => getComputedStyle(e).transitionDuration !== "
                    + "'0s').map(e => e.outerHTML)"));
    }

    private static Task<string> FocusAsync(WatchedPage window, string what) =>
        window.Page.EvaluateAsync<string>($"document.activeElement.{what}");

    private static Task<string> PlaceAsync(WatchedPage window) =>
        window.Page.EvaluateAsync<string>("document.querySelector('.leaflet-map-pane').style.transform");

    private static double Metres(string scale) =>
        double.Parse(scale.Split(' ')[0], System.Globalization.CultureInfo.InvariantCulture)
        * (scale.EndsWith("km", StringComparison.Ordinal) ? 1000 : 1);
}
