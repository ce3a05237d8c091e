using Microsoft.Playwright;

namespace DecayAtlas.EndToEnd;

/// <summary>One session of Debian's Chromium for all tests that look at pages; the demo's pages are opened from disk in it.</summary>
public sealed class Browser : IAsyncLifetime
{
    private const string Chromium = "/usr/bin/chromium";

    private IPlaywright? _playwright;
    private IBrowser? _browser;

    /// <summary>Why the tests that need it are skipped; <see langword="null"/> where they are not.</summary>
    public static string? SkipBecause => File.Exists(Chromium) ? null : $"{Chromium} is not installed; apt-get install chromium";

    public async ValueTask InitializeAsync()
    {
        if (SkipBecause is not null)
            return;
        _playwright = await Playwright.CreateAsync();
        _browser = await _playwright.Chromium.LaunchAsync(new()
        {
            ExecutablePath = Chromium,
            Args = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
                "--disable-component-update", "--disable-sync"],
        });
    }

    /// <summary>A fresh window.</summary>
    /// <param name="bypassPolicy">Lets a checker put its own script into pages that allow none.</param>
    /// <param name="home">How the addresses begin that the page may ask for: the disk, or a server of ours.</param>
    public async Task<WatchedPage> OpenAsync(int width = 1280, int height = 900, ColorScheme scheme = ColorScheme.Light,
        bool bypassPolicy = false, string home = "file:")
    {
        Assert.SkipWhen(SkipBecause is not null, SkipBecause ?? "");
        IBrowserContext context =
            await _browser!.NewContextAsync(
                new() { ViewportSize = new() { Width = width, Height = height }, ColorScheme = scheme, BypassCSP = bypassPolicy });
        return new WatchedPage(context, await context.NewPageAsync(), home);
    }

    public async ValueTask DisposeAsync()
    {
        if (_browser is not null)
            await _browser.DisposeAsync();
        _playwright?.Dispose();
    }
}

/// <summary>A page whose complaints and outside requests are written down.</summary>
public sealed class WatchedPage : IAsyncDisposable
{
    private readonly IBrowserContext _context;

    public WatchedPage(IBrowserContext context, IPage page, string home)
    {
        (_context, Page) = (context, page);
        page.Console += (_, message) =>
        {
            if (message.Type is "error" or "warning")
                Complaints.Add($"{page.Url}: {message.Text}");
        };
        page.PageError += (_, error) => Complaints.Add($"{page.Url}: {error}");
        page.RequestFailed += (_, request) => Complaints.Add($"{page.Url}: could not load {request.Url}");
        page.Request += (_, request) =>
        {
            Asked.Add(request.Url);
            if (!request.Url.StartsWith(home, StringComparison.Ordinal) && !request.Url.StartsWith("data:", StringComparison.Ordinal))
                Complaints.Add($"{page.Url}: asked for {request.Url}");
        };
    }

    public IPage Page { get; }

    /// <summary>All that the page asked for.</summary>
    public List<string> Asked { get; } = [];

    /// <summary>Errors, warnings, failed and outside requests.</summary>
    public List<string> Complaints { get; } = [];

    /// <summary>Opens a page and waits until its scripts are done; the map until its prediction is drawn.</summary>
    /// <param name="folder">The folder of the pages on disk, or their address on a server.</param>
    public async Task GoToAsync(string folder, string path)
    {
        await Page.GotoAsync("about:blank");
        await Page.GotoAsync(new Uri(folder + "/").AbsoluteUri + path);
        if (path.Contains("map.html", StringComparison.Ordinal))
            await Page.WaitForSelectorAsync("html[data-map=ready][data-prediction=drawn]", new() { State = WaitForSelectorState.Attached });
    }

    public ValueTask DisposeAsync() => _context.DisposeAsync();
}

/// <summary>Windows that stay open from test to test, as a group drops one file after another into the same page.</summary>
public sealed class KeptWindows : IAsyncDisposable
{
    private readonly Dictionary<string, WatchedPage> _windows = [];

    /// <summary>The window of that name, opened for the first who asks, its complaints forgotten.</summary>
    public async Task<WatchedPage> OpenAsync(string name, Func<Task<WatchedPage>> open)
    {
        if (!_windows.TryGetValue(name, out WatchedPage? window))
            _windows[name] = window = await open();
        window.Complaints.Clear();
        return window;
    }

    public async ValueTask DisposeAsync()
    {
        foreach (WatchedPage window in _windows.Values)
            await window.DisposeAsync();
    }
}
