using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.WebUtilities;

namespace DecayAtlas.Serving.Answers;

/// <summary>Refusals as problem details (RFC 9457): one sentence, which tells nothing of the machine, and no tag of the answer that was
/// asked for.</summary>
internal static class Problem
{
    public const string MediaType = "application/problem+json";

    public static Task WriteAsync(HttpContext http, int status, string sentence, TimeSpan? retryAfter = null)
    {
        http.Response.Headers.ETag = default;
        if (retryAfter is { } wait)
            http.Response.Headers.RetryAfter = $"{Math.Ceiling(wait.TotalSeconds)}";
        ProblemDetails problem = new() { Title = ReasonPhrases.GetReasonPhrase(status), Status = status, Detail = sentence };
        return JsonAnswer.WriteAsync(http, problem, "no-store", MediaType, status);
    }
}
