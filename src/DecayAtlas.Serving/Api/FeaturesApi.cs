using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Routing;
using Microsoft.Net.Http.Headers;
using Microsoft.OpenApi;

namespace DecayAtlas.Serving.Api;

/// <summary>Sites and burials by the open standard OGC API - Features, part 1: core (OGC 17-069r4). What it answers follows from the
/// release and the request alone, so that a reader who has an answer of this release is told with 304 that it still holds.</summary>
public static class FeaturesApi
{
    public const string Prefix = "/api";

    private delegate Task PageWriter(HttpResponse response, string root, FeatureCollectionInfo collection, FeatureTable table,
        PageRequest request, CancellationToken cancelled);

    // another build may say the same release in another way
    private static readonly string Build = typeof(FeaturesApi).Module.ModuleVersionId.ToString("N")[..8];

    private static readonly JsonSerializerOptions Relaxed = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <param name="root">Gives the address that a request's reader sees as the root of the API, without a slash at its end.</param>
    public static void Map(IEndpointRouteBuilder routes, ServedAtlas atlas, Func<HttpContext, string> root)
    {
        Document("", ApiDocuments.Landing);
        Document("/conformance", (_, _) => ApiDocuments.Conformance);
        Document("/collections", ApiDocuments.Collections);
        Add("/openapi.json", (http, release) => WriteAsync(http, ApiDocuments.OpenApiMediaType, TextOf(Description(http, release))));
        Add("/guide", (http, release) => WriteAsync(http, "text/html; charset=utf-8", ApiGuide.Page(Description(http, release), release)));
        Add(ServerPage.StylePath[Prefix.Length..], (http, _) => WriteAsync(http, "text/css; charset=utf-8", HouseStyle.Css));
        Add(ServerPage.MarkPath[Prefix.Length..], (http, _) => WriteAsync(http, "image/svg+xml", HouseStyle.Mark));
        foreach (FeatureCollectionInfo collection in FeatureCollectionInfo.All)
        {
            string path = $"/collections/{collection.Id}";
            Document(path, (address, release) => ApiDocuments.Collection(address, release, collection));
            Add(path + "/items/{featureId}",
                (http, release) => WriteFeatureAsync(http, root(http), collection, release.Features.Of(collection)));
            Add(path + "/items", (http, release) =>
            {
                PageRequest request = PageRequest.Parse(http.Request.Query, collection.Filters);
                http.Response.ContentType = request.IsCsv ? FeatureCsv.MediaType : FeatureWriter.MediaType;
                return (request.IsCsv ? FeatureCsv.WritePageAsync : (PageWriter)FeatureWriter.WritePageAsync)(
                    http.Response, root(http), collection, release.Features.Of(collection), request, http.RequestAborted);
            }, takesParameters: true);
        }

        OpenApiDocument Description(HttpContext http, ServedRelease release) =>
            OpenApiDescription.Of(root(http)[..^Prefix.Length], Prefix, release.Features);

        void Document(string path, Func<string, ReleaseFeatures, object> make) => Add(path, (http, release) =>
            WriteAsync(http, ApiDocuments.Json, JsonSerializer.Serialize(make(root(http), release.Features), Relaxed)));

        void Add(string path, Func<HttpContext, ServedRelease, Task> answer, bool takesParameters = false) =>
            routes.MapMethods(path, MethodGate.Reading, http => AskedRightly.AnswerAsync(http, () =>
        {
            ServedRelease release = atlas.Current;
            if (!takesParameters)
                AskedRightly.RequireNoParameters(http);
            EntityTagHeaderValue tag = new($"\"{release.Name.Id}-{Build}\"", isWeak: true);
            http.Response.Headers.ETag = tag.ToString();
            http.Response.Headers.CacheControl = "no-cache";
            if (!Holds(tag, http.Request))
                return answer(http, release);
            http.Response.StatusCode = Status304NotModified;
            return Task.CompletedTask;
        }));
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
            return Problem.WriteAsync(http, Status404NotFound, $"There is no feature {QueryFaultException.Quoted(id)} in {collection.Id} "
                + $"of this release; ask {Prefix}/collections/{collection.Id}/items for those there are.");
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
