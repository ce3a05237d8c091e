using Microsoft.OpenApi;

namespace DecayAtlas.Serving.Api;

/// <summary>What a resource takes and answers, in the terms of OpenAPI.</summary>
internal static class Resource
{
    public static OpenApiResponseReference Problem => new("problem");

    public static OpenApiPathItem Get(string id, string summary, IEnumerable<IOpenApiParameter>? parameters,
        params (string Status, IOpenApiResponse Answer)[] answers)
    {
        OpenApiOperation get = new() { OperationId = id, Summary = summary, Parameters = parameters?.ToList(), Responses = [] };
        foreach ((string status, IOpenApiResponse answer) in answers)
            get.Responses[status] = answer;
        return new OpenApiPathItem { Operations = new() { [HttpMethod.Get] = get } };
    }

    public static OpenApiParameter Parameter(string name, string description, IOpenApiSchema schema,
        ParameterLocation place = ParameterLocation.Query, bool isRequired = false) => new()
        {
            Name = name,
            In = place,
            Required = isRequired || place == ParameterLocation.Path,
            Description = description,
            Explode = false,
            Schema = schema,
        };

    public static OpenApiResponse Answer(string description, IOpenApiSchema schema, string mediaType = ApiDocuments.Json) =>
        new()
        {
            Description = description,
            Content = new Dictionary<string, IOpenApiMediaType> { [mediaType] = new OpenApiMediaType { Schema = schema } },
        };
}
