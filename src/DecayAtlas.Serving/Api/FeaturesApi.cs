using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Microsoft.Net.Http.Headers;
using Microsoft.OpenApi;

namespace DecayAtlas.Serving.Api;

/// <summary>
/// Sites and burials by the open standard OGC API - Features, part 1: core (OGC 17-069r4). What it answers follows from the release
/// and the request alone, so that a reader who has an answer of this release is told with 304 that it still holds.
/// </summary>
public static class FeaturesApi
{
    /// <summary>Where the API has its root.</summary>
    public const string Prefix = "/api";

    private static readonly string[] Methods = [HttpMethods.Get, HttpMethods.Head];

    // another build may say the same release in another way
    private static readonly string Build = typeof(FeaturesApi).Module.ModuleVersionId.ToString("N")[..8];

    private static readonly JsonSerializerOptions Relaxed = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>Adds its resources to the routes below <see cref="Prefix"/>.</summary>
    /// <param name="root">Gives the address that a request's reader sees as the root of the API, without a slash at its end.</param>
    public static void Map(IEndpointRouteBuilder routes, ServedAtlas atlas, Func<HttpContext, string> root)
    {
        Document("", ApiDocuments.Json, ApiDocuments.Landing);
        Document("/conformance", ApiDocuments.Json, (_, _) => ApiDocuments.Conformance());
        Document("/collections", ApiDocuments.Json, ApiDocuments.Collections);
        Add("/openapi.json", (http, release) =>
            WriteAsync(http, ApiDocuments.OpenApiMediaType, TextOf(Description(root(http), release.Features))));
        Add("/guide",
            (http, release) => WriteAsync(http, "text/html; charset=utf-8", ApiGuide.Page(Description(root(http), release.Features))));
        Add("/guide.css", (http, _) => WriteAsync(http, "text/css; charset=utf-8", ApiGuide.Style));
        foreach (FeatureCollectionInfo collection in FeatureCollectionInfo.All)
        {
            Document($"/collections/{collection.Id}",
                ApiDocuments.Json, (address, release) => ApiDocuments.Collection(address, release, collection));
            Add($"/collections/{collection.Id}/items/{{featureId}}",
                (http, release) => WriteFeatureAsync(http, root(http), collection, release.Features.Of(collection)));
            Add($"/collections/{collection.Id}/items", (http, release) =>
            {
                PageRequest request = PageRequest.Parse(http.Request.Query, collection.Filters);
                http.Response.ContentType = FeatureWriter.MediaType;
                return FeatureWriter.WritePageAsync(http.Response, root(http), collection, release.Features.Of(collection), request,
                    http.RequestAborted);
            }, takesParameters: true);
        }

        OpenApiDocument Description(string address, ReleaseFeatures release) =>
            OpenApiDescription.Of(address[..^Prefix.Length], Prefix, release);

        void Document(string path, string mediaType, Func<string, ReleaseFeatures, JsonObject> make) =>
            Add(path, (http, release) => WriteAsync(http, mediaType, make(root(http), release.Features).ToJsonString(Relaxed)));

        void Add(string path, Func<HttpContext, ServedRelease, Task> answer, bool takesParameters = false) =>
            routes.MapMethods(path, Methods, async http =>
        {
            ServedRelease release = atlas.Current;
            try
            {
                if (!takesParameters && http.Request.Query.Keys.FirstOrDefault() is { } unknown)
                {
                    throw new QueryFaultException($"There is no parameter {QueryFaultException.Quoted(unknown)} here; this resource "
                        + "takes none.");
                }

                EntityTagHeaderValue tag = new($"\"{release.Name.Id}-{Build}\"", isWeak: true);
                http.Response.Headers.ETag = tag.ToString();
                http.Response.Headers.CacheControl = "no-cache";
                if (Holds(tag, http.Request))
                    http.Response.StatusCode = StatusCodes.Status304NotModified;
                else
                    await answer(http, release).ConfigureAwait(false);
            }
            catch (QueryFaultException fault)
            {
                http.Response.Headers.ETag = default;
                await Problem.WriteAsync(http, StatusCodes.Status400BadRequest, fault.Message).ConfigureAwait(false);
            }
        });
    }

    /// <summary>Whether the reader has the answer (RFC 9110, 13.1.2: any tag of a list, by weak comparison, or any answer at
    /// all).</summary>
    private static bool Holds(EntityTagHeaderValue tag, HttpRequest request) =>
        request.Headers.IfNoneMatch.Count > 0
        && request.GetTypedHeaders().IfNoneMatch
            .Any(known => known.Equals(EntityTagHeaderValue.Any) || known.Compare(tag, useStrongComparison: false));

    private static Task WriteFeatureAsync(HttpContext http, string root, FeatureCollectionInfo collection, FeatureTable table)
    {
        string id = (string)http.Request.RouteValues["featureId"]!;
        if (FeatureId.Parse(id) is not { } key || table.RowOf(key) is not { } row)
        {
            http.Response.Headers.ETag = default;
            return Problem.WriteAsync(http,
                StatusCodes.Status404NotFound, $"There is no feature {QueryFaultException.Quoted(id)} in {collection.Id} of this "
                + $"release; ask {Prefix}/collections/{collection.Id}/items for those there are.");
        }

        http.Response.ContentType = FeatureWriter.MediaType;
        FeatureWriter.WriteOne(http.Response, root, collection, table, row);
        return Task.CompletedTask;
    }

    private static string TextOf(OpenApiDocument description)
    {
        using StringWriter text = new(CultureInfo.InvariantCulture);
        description.SerializeAsV3(new OpenApiJsonWriter(text, new OpenApiJsonWriterSettings { Terse = true }));
        return text.ToString();
    }

    private static Task WriteAsync(HttpContext http, string mediaType, string text)
    {
        byte[] bytes = Encoding.UTF8.GetBytes(text);
        http.Response.ContentType = mediaType;
        http.Response.ContentLength = bytes.Length;
        return http.Response.Body.WriteAsync(bytes).AsTask();
    }
}
