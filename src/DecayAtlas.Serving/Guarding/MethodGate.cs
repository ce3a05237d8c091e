using Microsoft.AspNetCore.Http.Features;

namespace DecayAtlas.Serving.Guarding;

/// <summary>Reading only: GET, HEAD and OPTIONS, and no request brings a body.</summary>
internal sealed class MethodGate(ServingOptions options)
{
    public static readonly string[] Reading = [HttpMethods.Get, HttpMethods.Head];

    private const string Allowed = "GET, HEAD, OPTIONS";

    public Task RunAsync(HttpContext http, RequestDelegate next)
    {
        string method = http.Request.Method;
        bool isRead = HttpMethods.IsGet(method) || HttpMethods.IsHead(method);
        if (!isRead && !HttpMethods.IsOptions(method))
        {
            http.Response.Headers.Allow = Allowed;
            return Problem.WriteAsync(http, Status405MethodNotAllowed, $"This server is read-only; it takes {Allowed}.");
        }

        if (http.Features.Get<IHttpRequestBodyDetectionFeature>()?.CanHaveBody == true)
        {
            http.Response.Headers.Connection = "close";
            return Problem.WriteAsync(http, Status413PayloadTooLarge,
                "This server is read-only and takes no request with a body.");
        }

        if (isRead)
            return next(http);
        http.Response.StatusCode = Status204NoContent;
        http.Response.Headers.Allow = Allowed;
        if (options.AllowedOrigin is not null)
        {
            http.Response.Headers.AccessControlAllowMethods = "GET, HEAD";
            http.Response.Headers.AccessControlAllowHeaders = "Range, If-Range, If-None-Match, Accept, Accept-Language";
            http.Response.Headers.AccessControlMaxAge = "86400";
        }

        return Task.CompletedTask;
    }
}
