using System.IO.Compression;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.ResponseCompression;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;

namespace DecayAtlas.Serving;

/// <summary>A small read-only web server over an atlas. To see all that it answers, read <see cref="MapResources"/>.</summary>
public static class AtlasServer
{
    /// <summary>Builds it; nothing listens before it is started.</summary>
    /// <param name="model">What predicts for places; nothing does where it is missing.</param>
    public static WebApplication Build(ServedAtlas atlas, ServingOptions options, ServedModel? model = null, IServingLog? log = null)
    {
        log ??= new SilentLog();
        FollowState state = new();
        WebApplicationBuilder builder = WebApplication.CreateEmptyBuilder(new WebApplicationOptions());
        builder.WebHost.UseKestrelCore().ConfigureKestrel(kestrel => ServerLimits.Set(kestrel, options));
        builder.Services.AddRoutingCore();
        builder.Services.Configure<HostOptions>(host => host.ShutdownTimeout = TimeSpan.FromSeconds(5));
        builder.Services.AddHostedService(_ => new Follower(atlas, model, state, options, log));
        builder.Services.AddRequestTimeouts(timeouts => timeouts.DefaultPolicy = ServerLimits.TimeLimit(options));
        builder.Services.AddRateLimiter(limiter => ServerLimits.LimitPredictions(limiter, options));
        builder.Services.AddResponseCompression(packing => packing.MimeTypes = MediaTypes.Packed);
        builder.Services.Configure<BrotliCompressionProviderOptions>(brotli => brotli.Level = CompressionLevel.Fastest);

        WebApplication app = builder.Build();
        if (log.WantsRequests)
            app.Use(new RequestDiary(log).RunAsync);
        app.Use(new AnswerHeaders(options).RunAsync);
        app.Use(new FailureGate(log).RunAsync);
        app.Use(new HostGate(options).RunAsync);
        app.Use(new MethodGate(options).RunAsync);
        app.Use(PathGate.RunAsync);
        if (options.Prefix.Length > 0)
            app.UsePathBase(PathString.FromUriComponent(options.Prefix));
        // released data goes out as it is: packed, its tag would be no checksum and a range of it nothing
        app.UseWhen(http => !FilesResource.IsData(http.Request.Path), packed => packed.UseResponseCompression());
        app.UseRouting();
        app.UseRequestTimeouts();
        app.UseRateLimiter();
        MapResources(app, atlas, options, model, state);
        return app;
    }

    private static void MapResources(WebApplication app, ServedAtlas atlas, ServingOptions options, ServedModel? model, FollowState state)
    {
        PublicAddress address = new(options);
        ReleaseShelf shelf = new(atlas.Atlas, release => !options.ServesOnlyCurrent || release == atlas.Current.Name);
        FilesResource files = new(atlas, shelf, new ReleaseList(atlas, shelf, address), address);
        app.MapMethods("/", MethodGate.Reading, files.EnterAsync);
        app.MapMethods(FilesResource.Root + "/{**path}", MethodGate.Reading, files.AnswerAsync).DisableRequestTimeout();
        app.MapMethods(PredictResource.Path, MethodGate.Reading, new PredictResource(model).AnswerAsync)
            .RequireRateLimiting(PredictResource.Policy);
        app.MapMethods("/health", MethodGate.Reading, new HealthResource(atlas, model, state).AnswerAsync);
        FeaturesApi.Map(app.MapGroup(FeaturesApi.Prefix), atlas, http => address.Root(http) + FeaturesApi.Prefix);
        PositionApi.Map(app.MapGroup(PositionApi.Prefix), atlas, model, address.Root);
        app.MapFallback("/{**path}", http => Problem.WriteAsync(http, Status404NotFound,
            $"There is nothing here; {options.Prefix}/ leads to the pages, {options.Prefix}{FilesResource.Root}/ to the files, "
            + $"{options.Prefix}{FeaturesApi.Prefix} to the sites and burials, {options.Prefix}{PositionApi.Prefix} to what is known of a "
            + "place."));
    }
}
