using DecayAtlas.Serving.Features;
using DecayAtlas.Serving.Following;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.Extensions.DependencyInjection;

namespace DecayAtlas.Serving;

/// <summary>A small read-only web server over an atlas.</summary>
public static class AtlasServer
{
    /// <summary>Builds it; nothing listens before it is started.</summary>
    public static WebApplication Build(ServedAtlas atlas, ServingOptions options)
    {
        WebApplicationBuilder builder = WebApplication.CreateEmptyBuilder(new WebApplicationOptions());
        builder.WebHost.UseKestrelCore().ConfigureKestrel(kestrel => kestrel.Listen(options.Address, options.Port));
        builder.Services.AddRoutingCore();
        WebApplication app = builder.Build();
        FeaturesApi.Map(app.MapGroup(FeaturesApi.Prefix), atlas, http => $"{http.Request.Scheme}://{http.Request.Host}{FeaturesApi.Prefix}");
        return app;
    }
}
