using System.Net;
using System.Security.Cryptography;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;

namespace DecayAtlas.Serving.Tests.Hosting;

/// <summary>What happens to the atlas while it is served: new releases, new pages, a disk that goes away; and too many readers.</summary>
public sealed class NightsWhileServing : IDisposable
{
    private readonly ExampleAtlas _atlas = new();

    public void Dispose() => _atlas.Dispose();

    [Fact(Timeout = 60_000)]
    public async Task A_release_that_is_published_while_serving_is_taken_up_and_the_old_one_can_still_be_read()
    {
        WrittenLog log = new();
        await using RunningServer server = await RunningServer.StartAsync(_atlas, log: log);
        ReleaseName first = _atlas.Release;
        _atlas.Publish("second");
        ReleaseName second = _atlas.Release;
        Assert.NotEqual(first, second);
        await server.WaitForAsync("/health", (_, text) => text.Contains(second.Id, StringComparison.Ordinal));

        using HttpResponseMessage front = await server.GetAsync("/");
        Assert.Equal($"/releases/{second}/pages/index.html", front.Headers.Location!.ToString());
        foreach (ReleaseName release in new[] { first, second })
        {
            using HttpResponseMessage package = await server.GetAsync($"/releases/{release}/datapackage.json");
            Assert.Contains($"\"id\": \"{release.Id}\"", await package.Content.ReadAsStringAsync(TestContext.Current.CancellationToken),
                StringComparison.Ordinal);
        }

        Assert.Equal($"Release {second} is served now.", Assert.Single(log.News));
        Assert.Empty(log.Troubles);
    }

    [Fact(Timeout = 60_000)]
    public async Task Older_releases_are_not_seen_where_that_was_said()
    {
        ReleaseName first = _atlas.Release;
        _atlas.Publish("second");
        await using RunningServer server = await RunningServer.StartAsync(_atlas, o => o with { ServesOnlyCurrent = true });
        using HttpResponseMessage old = await server.GetAsync($"/releases/{first}/sites.geojson"),
            current = await server.GetAsync($"/releases/{_atlas.Release}/sites.geojson"), list = await server.GetAsync("/releases/");
        Assert.Equal((HttpStatusCode.NotFound, HttpStatusCode.OK), (old.StatusCode, current.StatusCode));
        Assert.DoesNotContain(first.Id, await list.Content.ReadAsStringAsync(TestContext.Current.CancellationToken),
            StringComparison.Ordinal);
    }

    [Fact(Timeout = 60_000)]
    public async Task A_release_without_pages_says_how_to_make_them_and_the_front_leads_to_those_before()
    {
        ReleaseName first = _atlas.Release;
        await using RunningServer server = await RunningServer.StartAsync(_atlas);
        _atlas.Publish("bare", last: "publish");
        await server.WaitForAsync("/health", (_, text) => text.Contains(_atlas.Release.Id, StringComparison.Ordinal));
        using HttpResponseMessage front = await server.GetAsync("/");
        Assert.Equal($"/releases/{first}/pages/index.html", front.Headers.Location!.ToString());
        using HttpResponseMessage page = await server.GetAsync($"/releases/{_atlas.Release}/pages/index.html");
        Assert.Equal(HttpStatusCode.NotFound, page.StatusCode);
        Assert.Contains("make them with: decayatlas pages FILE",
            await page.Content.ReadAsStringAsync(TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    [Fact(Timeout = 60_000)]
    public async Task An_atlas_that_goes_away_is_told_by_health_once_in_the_log_and_healed_when_it_comes_back()
    {
        WrittenLog log = new();
        await using RunningServer server = await RunningServer.StartAsync(_atlas, log: log);
        string current = _atlas.Atlas.Current, aside = current + "-aside";
        Directory.Move(current, aside);
        string ill = await server.WaitForAsync("/health", (answer, _) => answer.StatusCode == HttpStatusCode.ServiceUnavailable);
        Assert.Contains("\"status\":\"stale\"", ill, StringComparison.Ordinal);
        Assert.DoesNotContain(_atlas.Folder, ill, StringComparison.Ordinal);
        await Task.Delay(1000, TestContext.Current.CancellationToken);   // several looks
        Assert.Contains("no readable current release any more", Assert.Single(log.Troubles), StringComparison.Ordinal);

        Directory.Move(aside, current);
        await server.WaitForAsync("/health", (answer, _) => answer.StatusCode == HttpStatusCode.OK);
        Assert.Contains("What was in trouble is well again.", log.News);
    }

    [Fact(Timeout = 120_000)]
    public async Task Pages_that_are_made_anew_again_and_again_are_never_torn()
    {
        await using RunningServer server = await RunningServer.StartAsync(_atlas);
        ReleasePages pages = new(_atlas.Atlas, _atlas.Release);
        string page = $"/releases/{_atlas.Release}/pages/index.html";
        using CancellationTokenSource stop = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        Task making = Task.Run(() =>
        {
            for (int i = 0; i < 200; i++)
            {
                pages.Make($"{i}",
                    folder => folder.WriteText("index.html", $"<!DOCTYPE html><title>{i}</title>{new string('x', i * 2000)}"));
            }

            stop.Cancel();
        }, TestContext.Current.CancellationToken);
        Task<HashSet<string>> reading = Task.Run(async () =>
        {
            HashSet<string> seen = new();
            do
            {
                using HttpResponseMessage answer = await server.GetAsync(page);
                Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
                byte[] bytes = await answer.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken);
                Assert.Equal($"W/\"{Convert.ToHexStringLower(SHA256.HashData(bytes))}\"", answer.Headers.ETag!.ToString());
                seen.Add(answer.Headers.ETag.ToString());
            }
            while (!stop.IsCancellationRequested);
            return seen;
        }, TestContext.Current.CancellationToken);
        await making;
        Assert.True((await reading).Count > 1, "no page was read while they were made");
    }

    [Fact(Timeout = 60_000)]
    public async Task Who_comes_when_all_predictions_are_busy_is_told_to_come_again()
    {
        ServingOptions options = new(IPAddress.Loopback, 0) { PredictionsAtOnce = 1, PredictionsWaiting = 1 };
        TaskCompletionSource busy = new();
        int begun = 0;
        WebApplicationBuilder builder = WebApplication.CreateEmptyBuilder(new WebApplicationOptions());
        builder.WebHost.UseKestrelCore().ConfigureKestrel(kestrel => ServerLimits.Set(kestrel, options));
        builder.Services.AddRoutingCore().AddRateLimiter(limiter => ServerLimits.LimitPredictions(limiter, options));
        await using WebApplication app = builder.Build();
        app.UseRouting();
        app.UseRateLimiter();
        app.MapGet("/slow", async (HttpContext _) =>
        {
            Interlocked.Increment(ref begun);
            await busy.Task;
        }).RequireRateLimiting(PredictResource.Policy);
        await app.StartAsync(TestContext.Current.CancellationToken);
        using HttpClient client = new() { BaseAddress = new Uri(app.Urls.First()) };
        CancellationToken cancellation = TestContext.Current.CancellationToken;

        Task<HttpResponseMessage>[] asked = [.. Enumerable.Range(0, 5).Select(_ => client.GetAsync("/slow", cancellation))];
        // one computes, one waits, and just the other three are sent away
        HttpResponseMessage[] refused = [await await Task.WhenAny(asked)];
        while (asked.Count(a => a.IsCompleted) < 3)
            await Task.Delay(5, cancellation);
        Assert.Equal(HttpStatusCode.ServiceUnavailable, refused[0].StatusCode);
        Assert.Equal(TimeSpan.FromSeconds(1), refused[0].Headers.RetryAfter!.Delta);
        Assert.Equal(1, begun);
        busy.SetResult();
        HttpResponseMessage[] answers = await Task.WhenAll(asked);
        Assert.Equal(2, answers.Count(a => a.StatusCode == HttpStatusCode.OK));
        Assert.Equal(3, answers.Count(a => a.StatusCode == HttpStatusCode.ServiceUnavailable));
    }
}
