using System.Globalization;
using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Routing;

namespace DecayAtlas.Serving.Positions;

/// <summary>What the models say of a place, and its covariates, by the open standard OGC API - Environmental Data Retrieval 1.1: position
/// queries, as CoverageJSON and GeoJSON.</summary>
public static class PositionApi
{
    public const string Prefix = "/edr";

    /// <param name="root">Gives the address that a request's reader sees as the root of the server, without a slash at its end.</param>
    public static void Map(IEndpointRouteBuilder routes, ServedAtlas atlas, ServedModel? model, Func<HttpContext, string> root)
    {
        Add("", http => PositionDocuments.Landing(root(http) + Prefix, root(http) + FeaturesApi.Prefix + "/openapi.json",
            atlas.Current.Features.Title));
        Add("/conformance", _ => PositionDocuments.Conformance);
        Add("/collections", http => PositionDocuments.Collections(root(http) + Prefix, PositionCollection.Of(model), Extent()));
        routes.MapMethods("/collections/{collection}", MethodGate.Reading, http => Answered(http, takesParameters: false, collection =>
            WriteAsync(http, PositionDocuments.Collection(root(http) + Prefix, collection, Extent()), ApiDocuments.Json)));
        routes.MapMethods("/collections/{collection}/position", MethodGate.Reading, http => Answered(http, takesParameters: true,
            collection => PositionAsync(http, collection))).RequireRateLimiting(PredictResource.Policy);

        QueryBox? Extent() => atlas.Current.Features.Of(FeatureCollectionInfo.Sites).Extent;

        void Add(string path, Func<HttpContext, JsonObject> make) => routes.MapMethods(path, MethodGate.Reading,
            http => TryAsync(http, takesParameters: false, () => WriteAsync(http, make(http), ApiDocuments.Json)));

        Task Answered(HttpContext http, bool takesParameters, Func<PositionCollection, Task> answer) =>
            TryAsync(http, takesParameters, () =>
            {
                string id = (string)http.Request.RouteValues["collection"]!;
                IReadOnlyList<PositionCollection> all = PositionCollection.Of(model);
                if (all.FirstOrDefault(c => c.Id == id) is { } collection)
                    return answer(collection);
                string there = all.Count == 0 ? model?.Absence ?? "This server was started without a model."
                    : $"There are {string.Join(", ", all.Select(c => c.Id))}.";
                return Problem.WriteAsync(http, Status404NotFound, $"There is no collection {QueryFaultException.Quoted(id)}. {there}");
            });
    }

    private static Task PositionAsync(HttpContext http, PositionCollection collection)
    {
        PositionQuery query = PositionQuery.Parse(http.Request.Query);
        if (query.Names?.FirstOrDefault(name => collection.Parameters.All(p => p.Name != name)) is { } unknown)
        {
            throw new QueryFaultException("parameter-name", unknown,
                $"one or more of {string.Join(", ", collection.Parameters.Select(p => p.Name))}, joined by commas");
        }

        PositionParameter[] asked = [.. collection.Parameters.Where(p => query.Names?.Contains(p.Name) != false)];
        (PointPrediction? prediction, string? fault) = collection.Predictor.Predict(name => name switch
        {
            PointPredictor.Longitude => query.Longitude.ToString(CultureInfo.InvariantCulture),
            PointPredictor.Latitude => query.Latitude.ToString(CultureInfo.InvariantCulture),
            PointPredictor.BuriedOn => query.Season?.Buried.ToString("O", CultureInfo.InvariantCulture),
            PointPredictor.RetrievedOn => query.Season?.Retrieved.ToString("O", CultureInfo.InvariantCulture),
            _ => null,
        });
        if (prediction is null)
            throw new QueryFaultException($"The place can't be predicted for: {fault}.");
        return query.IsGeoJson ? WriteAsync(http, PositionDocuments.Features(prediction, asked), FeatureWriter.MediaType)
            : WriteAsync(http, PositionDocuments.Coverage(prediction, asked), PositionDocuments.CoverageJsonMediaType);
    }

    private static Task TryAsync(HttpContext http, bool takesParameters, Func<Task> answer) => AskedRightly.AnswerAsync(http, () =>
    {
        if (!takesParameters)
            AskedRightly.RequireNoParameters(http, but: "f");
        return answer();
    });

    // a place is somebody's: no copy of it is kept on the way
    private static Task WriteAsync(HttpContext http, JsonObject document, string mediaType) =>
        JsonAnswer.WriteAsync(http, document, "no-store", mediaType);
}
