using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.WebUtilities;

namespace DecayAtlas.Serving.Answers;

/// <summary>Refusals as problem details (RFC 9457): one sentence, which tells nothing of the machine.</summary>
internal static class Problem
{
    public const string MediaType = "application/problem+json";

    public static Task WriteAsync(HttpContext http, int status, string sentence, TimeSpan? retryAfter = null)
    {
        if (retryAfter is { } wait)
        {
            http.Response.Headers.RetryAfter = Math.Ceiling(wait.TotalSeconds)
                .ToString("0", System.Globalization.CultureInfo.InvariantCulture);
        }

        return JsonAnswer.WriteAsync(http,
            new ProblemDetails { Title = ReasonPhrases.GetReasonPhrase(status), Status = status, Detail = sentence }, "no-store",
            MediaType, status);
    }
}
