using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace DecayAtlas.Serving.Answers;

/// <summary>Small documents for machines: snake case, every member there, missing is null.</summary>
internal static class JsonAnswer
{
    public static JsonSerializerOptions Options { get; } = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        DefaultIgnoreCondition = JsonIgnoreCondition.Never,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    public static Task WriteAsync<T>(HttpContext http, T value, string cacheControl, string mediaType = "application/json",
        int status = Status200OK)
    {
        byte[] bytes = JsonSerializer.SerializeToUtf8Bytes(value, Options);
        http.Response.StatusCode = status;
        http.Response.ContentType = mediaType;
        http.Response.ContentLength = bytes.Length;
        http.Response.Headers.CacheControl = cacheControl;
        return HttpMethods.IsHead(http.Request.Method) ? Task.CompletedTask
            : http.Response.Body.WriteAsync(bytes, http.RequestAborted).AsTask();
    }
}
