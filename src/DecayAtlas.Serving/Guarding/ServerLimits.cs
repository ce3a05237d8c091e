using System.Threading.RateLimiting;
using Microsoft.AspNetCore.Http.Timeouts;
using Microsoft.AspNetCore.RateLimiting;
using Microsoft.AspNetCore.Server.Kestrel.Core;

namespace DecayAtlas.Serving.Guarding;

/// <summary>How much one reader may take of the server: sizes, times, and how many at once.</summary>
internal static class ServerLimits
{
    public static void Set(KestrelServerOptions kestrel, ServingOptions options)
    {
        kestrel.AddServerHeader = false;
        KestrelServerLimits limits = kestrel.Limits;
        limits.MaxRequestBodySize = 0;
        limits.MaxRequestLineSize = 8 * 1024;
        limits.MaxRequestHeadersTotalSize = 16 * 1024;
        limits.MaxRequestHeaderCount = 64;
        limits.RequestHeadersTimeout = options.RequestTime;
        limits.KeepAliveTimeout = TimeSpan.FromMinutes(1);
        limits.MinResponseDataRate = new MinDataRate(bytesPerSecond: 1024, gracePeriod: TimeSpan.FromSeconds(10));
        limits.MaxConcurrentConnections = options.MostConnections;
        limits.MaxConcurrentUpgradedConnections = 0;
        kestrel.Listen(options.Address, options.Port, listen => listen.Protocols = HttpProtocols.Http1);
    }

    /// <summary>What is computed must be done in time.</summary>
    public static RequestTimeoutPolicy TimeLimit(ServingOptions options) => new()
    {
        Timeout = options.RequestTime,
        WriteTimeoutResponse = http => Problem.WriteAsync(
            http, Status503ServiceUnavailable, "The answer took too long; ask for less, or later.", TimeSpan.FromSeconds(10)),
    };

    /// <summary>Predictions read grids, which is the dearest thing that a stranger can ask for: few at once, some wait, the rest come
    /// again.</summary>
    public static void LimitPredictions(RateLimiterOptions limiter, ServingOptions options)
    {
        limiter.AddConcurrencyLimiter(PredictResource.Policy, limit =>
        {
            limit.PermitLimit = options.PredictionsAtOnce;
            limit.QueueLimit = options.PredictionsWaiting;
            limit.QueueProcessingOrder = QueueProcessingOrder.OldestFirst;
        });
        limiter.OnRejected = (rejected, _) => new ValueTask(Problem.WriteAsync(rejected.HttpContext, Status503ServiceUnavailable,
            "The server predicts for others just now; ask again in a second.", TimeSpan.FromSeconds(1)));
    }
}
