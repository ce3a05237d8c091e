namespace DecayAtlas.Serving.Answers;

/// <summary>Where a reader reaches the server, for links in answers.</summary>
internal sealed class PublicAddress(ServingOptions options)
{
    /// <summary>The root as an absolute address, without a slash at its end.</summary>
    public string Root(HttpContext http) => options.PublicUrl is { } url
        ? url.GetLeftPart(UriPartial.Authority) + options.Prefix
        : $"{http.Request.Scheme}://{http.Request.Host}";

    /// <summary>Sends a reader on, for this time only: what is current changes.</summary>
    /// <param name="path">Path from the root, encoded, with a slash at its beginning.</param>
    public Task SendOnAsync(HttpContext http, string path)
    {
        http.Response.StatusCode = Status307TemporaryRedirect;
        http.Response.ContentLength = 0;
        http.Response.Headers.Location = options.Prefix + path;
        http.Response.Headers.CacheControl = "no-cache";
        return Task.CompletedTask;
    }
}
