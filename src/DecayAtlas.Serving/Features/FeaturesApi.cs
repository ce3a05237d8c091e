using DecayAtlas.Serving.Following;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace DecayAtlas.Serving.Features;

/// <summary>Sites and burials by the open standard OGC API - Features, part 1: core (OGC 17-069r4).</summary>
public static class FeaturesApi
{
    /// <summary>Adds its resources to a group of routes, which is the root of the API.</summary>
    /// <param name="root">Gives the address that a request's reader sees as the root of the API, without a slash at its end.</param>
    public static void Map(RouteGroupBuilder routes, ServedAtlas atlas, Func<HttpContext, string> root)
    {
        routes.MapGet("/", () => Results.NoContent());
    }
}
