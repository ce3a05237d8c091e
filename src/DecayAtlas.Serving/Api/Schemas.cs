using Microsoft.OpenApi;

namespace DecayAtlas.Serving.Api;

/// <summary>What values look like, in the terms of OpenAPI: each call gives a schema of its own, which may be said more of.</summary>
internal static class Schemas
{
    public static OpenApiSchema Text => OneOf();

    public static OpenApiSchema Day => Formatted("date");

    public static OpenApiSchema Address => Formatted("uri");

    public static OpenApiSchema Formatted(string format) => new() { Type = JsonSchemaType.String, Format = format };

    public static OpenApiSchema Boolean => new() { Type = JsonSchemaType.Boolean };

    public static OpenApiSchema Count => new() { Type = JsonSchemaType.Integer, Minimum = "0" };

    public static OpenApiSchema Number(string? least = null, string? most = null) =>
        new() { Type = JsonSchemaType.Number, Minimum = least, Maximum = most };

    /// <summary>One of some texts; any text where none are given.</summary>
    public static OpenApiSchema OneOf(params string[] values) =>
        new() { Type = JsonSchemaType.String, Enum = values.Length == 0 ? null : [.. values] };

    public static OpenApiSchema ArrayOf(IOpenApiSchema items) => new() { Type = JsonSchemaType.Array, Items = items };

    public static (string Name, IOpenApiSchema Schema)[] Texts(params string[] names) => [.. names.Select(n => (n, (IOpenApiSchema)Text))];

    public static OpenApiSchema Object(params (string Name, IOpenApiSchema Schema)[] members) =>
        new() { Type = JsonSchemaType.Object, Properties = members.ToDictionary(m => m.Name, m => m.Schema) };

    public static OpenApiSchemaReference Named(string schema) => new(schema);

    public static OpenApiSchema OrNull(this OpenApiSchema schema)
    {
        schema.Type |= JsonSchemaType.Null;
        return schema;
    }

    public static OpenApiSchema Meaning(this OpenApiSchema schema, string meaning)
    {
        schema.Description = meaning;
        return schema;
    }
}
