using Microsoft.Extensions.Primitives;

namespace DecayAtlas.Serving.Guarding;

/// <summary>What every answer tells a browser: load nothing from outside, guess no types, tell nobody where the reader came from.</summary>
internal sealed class AnswerHeaders
{
    // the pages' own policy, and what only a header can say
    private const string NotFramed = "; frame-ancestors 'none'", Policy = PagePolicy.Text + NotFramed;

    private readonly Dictionary<string, StringValues> _headers;

    public AnswerHeaders(ServingOptions options)
    {
        _headers = new()
        {
            ["Content-Security-Policy"] = Policy,
            ["X-Content-Type-Options"] = "nosniff",
            ["Referrer-Policy"] = "no-referrer",
            ["Permissions-Policy"] = "camera=(), geolocation=(), microphone=(), payment=(), usb=()",
            ["Cross-Origin-Opener-Policy"] = "same-origin",
            ["Cross-Origin-Resource-Policy"] = options.AllowedOrigin is null ? "same-origin" : "cross-origin",
        };
        if (options.AllowedOrigin is { } origin)
        {
            _headers["Access-Control-Allow-Origin"] = origin;
            _headers["Access-Control-Expose-Headers"] = "Accept-Ranges, Content-Crs, Content-Range, ETag, Link, Retry-After";
        }
    }

    /// <summary>The policy for a file of the pages of a release, by its path.</summary>
    public static string PolicyOf(string path) => PagePolicy.Of(path) + NotFramed;

    public Task RunAsync(HttpContext http, RequestDelegate next)
    {
        foreach ((string name, StringValues value) in _headers)
            http.Response.Headers[name] = value;
        return next(http);
    }
}
