using System.Net;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;

namespace DecayAtlas.Serving.Tests.Hosting;

/// <summary>What readers and the log are told where an answer can't be given to its end.</summary>
public sealed class AnswersThatFail
{
    private readonly WrittenLog _log = new();

    [Fact(Timeout = 60_000)]
    public async Task An_answer_whose_time_is_over_in_its_middle_ends_torn_and_is_no_trouble_since_every_slow_reader_could_make_one()
    {
        await using WebApplication app = await StartAsync(async http =>
        {
            await http.Response.WriteAsync("half", http.RequestAborted);
            await http.Response.Body.FlushAsync(http.RequestAborted);
            await Task.Delay(Timeout.Infinite, http.RequestAborted);
        });
        using HttpClient client = new() { BaseAddress = new Uri(app.Urls.First()) };
        await Assert.ThrowsAnyAsync<HttpRequestException>(() => client.GetStringAsync("/", TestContext.Current.CancellationToken));
        await app.StopAsync(TestContext.Current.CancellationToken);
        Assert.Empty(_log.Troubles);
    }

    [Fact(Timeout = 60_000)]
    public async Task A_grid_that_went_away_is_named_in_the_log_and_to_nobody_else()
    {
        await using WebApplication app =
            await StartAsync(_ => throw new GridException("/srv/grids/clay.tif cannot be opened: there is no such file."));
        using HttpClient client = new() { BaseAddress = new Uri(app.Urls.First()) };
        using HttpResponseMessage answer = await client.GetAsync("/", TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.ServiceUnavailable, answer.StatusCode);
        Assert.DoesNotContain("clay.tif", await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken),
            StringComparison.Ordinal);
        Assert.Equal("/srv/grids/clay.tif cannot be opened: there is no such file.", Assert.Single(_log.Troubles));
    }

    [Fact(Timeout = 60_000)]
    public async Task A_mistake_is_placed_in_the_log_in_what_is_ours_and_not_in_the_runtime()
    {
        await using WebApplication app = await StartAsync(http => http.Response.WriteAsync(new Dictionary<string, string>()["what"]));
        using HttpClient client = new() { BaseAddress = new Uri(app.Urls.First()) };
        using HttpResponseMessage answer = await client.GetAsync("/", TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.InternalServerError, answer.StatusCode);
        Assert.Contains($"KeyNotFoundException in {nameof(AnswersThatFail)}", Assert.Single(_log.Troubles), StringComparison.Ordinal);
    }

    private async Task<WebApplication> StartAsync(RequestDelegate resource)
    {
        ServingOptions options = new(IPAddress.Loopback, 0) { RequestTime = TimeSpan.FromMilliseconds(200) };
        WebApplicationBuilder builder = WebApplication.CreateEmptyBuilder(new WebApplicationOptions());
        builder.WebHost.UseKestrelCore().ConfigureKestrel(kestrel => ServerLimits.Set(kestrel, options));
        builder.Services.AddRoutingCore().AddRequestTimeouts(timeouts => timeouts.DefaultPolicy = ServerLimits.TimeLimit(options));
        WebApplication app = builder.Build();
        app.Use(new FailureGate(_log).RunAsync);
        app.UseRouting();
        app.UseRequestTimeouts();
        app.MapGet("/", resource);
        await app.StartAsync(TestContext.Current.CancellationToken);
        return app;
    }
}
