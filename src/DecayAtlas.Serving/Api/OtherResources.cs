using System.Text.Json.Nodes;

namespace DecayAtlas.Serving.Api;

/// <summary>The resources beside the features, as path items of the OpenAPI 3.0 document.</summary>
internal static class OtherResources
{
    private const string Predict =
        """
        {
          "get": {
            "operationId": "predict",
            "summary": "What the current model says of one place",
            "description": "An estimate with its interval, not a measurement. No basis for regulation, fertiliser or carbon-credit decisions.",
            "parameters": [
              { "name": "lon", "in": "query", "required": true, "description": "Longitude, WGS 84, decimal degrees.", "schema": { "type": "number", "minimum": -180, "maximum": 180 } },
              { "name": "lat", "in": "query", "required": true, "description": "Latitude, WGS 84, decimal degrees.", "schema": { "type": "number", "minimum": -90, "maximum": 90 } },
              { "name": "buried_on", "in": "query", "description": "First day in the soil; with retrieved_on.", "schema": { "type": "string", "format": "date" } },
              { "name": "retrieved_on", "in": "query", "description": "Last day; later than buried_on.", "schema": { "type": "string", "format": "date" } },
              { "name": "depth_cm", "in": "query", "description": "Depth of the bag. Unit: cm", "schema": { "type": "number", "minimum": 0, "maximum": 1000 } },
              { "name": "coordinate_uncertainty_m", "in": "query", "description": "How far off the place may be. Unit: m", "schema": { "type": "number", "minimum": 0, "maximum": 1000000 } }
            ],
            "responses": {
              "200": { "description": "The place as a GeoJSON feature; where there is no prediction its numbers are null and status says why", "content": { "application/geo+json": { "schema": {
                "type": "object",
                "properties": {
                  "type": { "type": "string", "enum": ["Feature"] },
                  "geometry": { "$ref": "#/components/schemas/point" },
                  "properties": { "type": "object", "properties": {
                    "k_per_day": { "type": "number", "nullable": true, "description": "Decay rate, the median of what is to be expected. Unit: d-1" },
                    "k_lower_per_day": { "type": "number", "nullable": true, "description": "Lower end of the prediction interval. Unit: d-1" },
                    "k_upper_per_day": { "type": "number", "nullable": true, "description": "Upper end. Unit: d-1" },
                    "interval_level": { "type": "number", "description": "Share of new site means that the interval is to hold." },
                    "dissimilarity": { "type": "number", "nullable": true, "description": "Dissimilarity index from all training sites, 0 or more." },
                    "applicable": { "type": "boolean", "nullable": true, "description": "Whether the place lies in the model's area of applicability." },
                    "status": { "type": "string", "description": "predicted, or why not." },
                    "covariates": { "type": "array", "items": { "type": "object", "properties": { "name": { "type": "string" }, "value": { "type": "number", "nullable": true }, "unit": { "type": "string" } } } },
                    "buried_on": { "type": "string", "format": "date", "nullable": true },
                    "retrieved_on": { "type": "string", "format": "date", "nullable": true },
                    "depth_cm": { "type": "number", "nullable": true },
                    "coordinate_uncertainty_m": { "type": "number", "nullable": true },
                    "model_id": { "type": "string" },
                    "release_id": { "type": "string", "description": "The release that the model was trained on." },
                    "caution": { "type": "string" }
                  } }
                }
              } } } },
              "400": { "$ref": "#/components/responses/problem" },
              "404": { "$ref": "#/components/responses/problem" },
              "503": { "$ref": "#/components/responses/problem" }
            }
          }
        }
        """;

    private const string Health =
        """
        {
          "get": {
            "operationId": "health",
            "summary": "Whether the server is well",
            "responses": {
              "200": { "description": "It serves what is current", "content": { "application/json": { "schema": { "type": "object", "properties": {
                "status": { "type": "string", "enum": ["ok", "stale"] },
                "release": { "type": "string" },
                "release_id": { "type": "string" },
                "model_id": { "type": "string", "nullable": true },
                "software": { "type": "string" },
                "started": { "type": "string", "format": "date-time" }
              } } } } },
              "503": { "description": "The atlas can't be read any more, or a newer release can't be; what was served before still is, and the answer has the same members" }
            }
          }
        }
        """;

    private const string Releases =
        """
        {
          "get": {
            "operationId": "releases",
            "summary": "The releases, the newest first, each with the address of its Data Package descriptor, which lists its files",
            "responses": {
              "200": { "description": "The list; a page for people where they rather take HTML", "content": {
                "application/json": { "schema": { "type": "object", "properties": { "releases": { "type": "array", "items": { "type": "object", "properties": {
                  "name": { "type": "string" }, "id": { "type": "string" }, "number": { "type": "integer" }, "is_current": { "type": "boolean" },
                  "descriptor": { "type": "string", "format": "uri" }, "checksums": { "type": "string", "format": "uri" }, "pages": { "type": "string", "format": "uri", "nullable": true }
                } } } } } },
                "text/html": { "schema": { "type": "string" } }
              } }
            }
          }
        }
        """;

    public static IReadOnlyDictionary<string, Func<JsonObject>> All { get; } = new Dictionary<string, Func<JsonObject>>
    {
        ["/predict"] = () => Parsed(Predict),
        ["/health"] = () => Parsed(Health),
        ["/releases/"] = () => Parsed(Releases),
    };

    private static JsonObject Parsed(string item) => JsonNode.Parse(item)!.AsObject();
}
