using Microsoft.AspNetCore.Http.Features;

namespace DecayAtlas.Serving.Guarding;

/// <summary>Refuses paths that climb, however they are written. None would lead anywhere, since files are looked up in a list; but who
/// writes one is told so, and a proxy that would resolve it in another way is not believed.</summary>
internal static class PathGate
{
    public static Task RunAsync(HttpContext http, RequestDelegate next) => Climbs(http.Features.Get<IHttpRequestFeature>()?.RawTarget ?? "")
        ? Problem.WriteAsync(http, Status400BadRequest,
            "The path holds a step upwards or a backslash; write it from the root, as it is linked.")
        : next(http);

    internal static bool Climbs(string target)
    {
        // decoded twice, since a proxy may decode once more than we do
        string path = Uri.UnescapeDataString(Uri.UnescapeDataString(target.Split('?', 2)[0]));
        return path.Contains('\\', StringComparison.Ordinal) || path.Contains('\0', StringComparison.Ordinal)
            || path.Split('/').Any(step => step is "." or "..");
    }
}
