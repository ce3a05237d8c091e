using Microsoft.OpenApi;

namespace DecayAtlas.Serving.Api;

/// <summary>The resources beside the features, as path items of the OpenAPI document.</summary>
internal static class OtherResources
{
    public static IEnumerable<(string Path, OpenApiPathItem Item)> All =>
    [
        ("/health", Resource.Get("health", "Whether the server is well", null,
            ("200", Resource.Answer("It serves what is current", Schemas.Object(
                ("status", Schemas.OneOf("ok", "stale")), ("release", Schemas.Text), ("release_id", Schemas.Text),
                ("model_id", Schemas.Text.OrNull()), ("software", Schemas.Text), ("started", Schemas.Formatted("date-time"))))),
            ("503", new OpenApiResponse
            {
                Description = "The atlas can't be read any more, or a newer release can't be; what was served before still is, and the "
                    + "answer has the same members",
            }))),
        (PredictResource.Path, Predict()),
        ("/edr/", Positions("edr", "What is known of every place (OGC API - Environmental Data Retrieval 1.1)")),
        ("/edr/conformance", Positions("edr-conformance", "Conformance classes that are kept")),
        ("/edr/collections", Positions("edr-collections", "The collections of parameters: predictions and covariates")),
        ("/edr/collections/{collection}", Positions("edr-collection", "One collection with its parameters and their units", Collection())),
        ("/edr/collections/{collection}/position", Position()),
        (FilesResource.Root + "/", Releases()),
    ];

    private static OpenApiParameter Collection() =>
        Resource.Parameter("collection", "Its id, as the list of collections gives it.", Schemas.Text, ParameterLocation.Path);

    private static OpenApiPathItem Positions(string id, string summary, params IOpenApiParameter[] parameters) =>
        Resource.Get(id, summary, parameters, ("200", Resource.Answer("The document", new OpenApiSchema { Type = JsonSchemaType.Object })),
            ("400", Resource.Problem), ("404", Resource.Problem));

    private static OpenApiPathItem Position()
    {
        OpenApiSchema any = new() { Type = JsonSchemaType.Object };
        OpenApiResponse coverage = Resource.Answer("A coverage of one point, or a collection of one feature", any,
            "application/prs.coverage+json");
        coverage.Content![FeatureWriter.MediaType] = new OpenApiMediaType { Schema = any };
        return Resource.Get("edr-position", "Values of parameters at one place",
            [
                Collection(),
                Resource.Parameter("coords", "The place as Well-Known Text, longitude before latitude: POINT(-30.5 -40.25).", Schemas.Text,
                    isRequired: true),
                Resource.Parameter("parameter-name", "Names of parameters, joined by commas; all unless stated.", Schemas.Text),
                Resource.Parameter("datetime", "Days of burial and retrieval, as 2024-04-01/2024-07-01.", Schemas.Text),
                Resource.Parameter("crs", "CRS84.", Schemas.Text),
                Resource.Parameter("f", "CoverageJSON unless stated, or GeoJSON.", Schemas.OneOf("CoverageJSON", "GeoJSON")),
            ],
            ("200", coverage), ("400", Resource.Problem), ("404", Resource.Problem), ("503", Resource.Problem));
    }

    private static OpenApiPathItem Predict()
    {
        OpenApiPathItem item = Resource.Get("predict", "What the current model says of one place",
            [
                Resource.Parameter("lon", "Longitude, WGS 84, decimal degrees.", Schemas.Number("-180", "180"), isRequired: true),
                Resource.Parameter("lat", "Latitude, WGS 84, decimal degrees.", Schemas.Number("-90", "90"), isRequired: true),
                Resource.Parameter("buried_on", "First day in the soil; with retrieved_on.", Schemas.Day),
                Resource.Parameter("retrieved_on", "Last day; later than buried_on.", Schemas.Day),
                Resource.Parameter("depth_cm", "Depth of the bag. Unit: cm", Schemas.Number("0", "1000")),
                Resource.Parameter("coordinate_uncertainty_m", "How far off the place may be. Unit: m", Schemas.Number("0", "1000000")),
                Resource.Parameter("ecosystem", "The kind of place: where enough sites of it were learnt from, the interval is its own.",
                    Schemas.Text),
            ],
            ("200", Resource.Answer(
                "The place as a GeoJSON feature; where there is no prediction its numbers are null and status says why",
                Schemas.Object(("type", Schemas.OneOf("Feature")), ("geometry", Schemas.Named("point")), ("properties", Prediction)),
                FeatureWriter.MediaType)),
            ("400", Resource.Problem), ("404", Resource.Problem), ("503", Resource.Problem));
        item.Operations![HttpMethod.Get].Description =
            "An estimate with its interval, not a measurement. A class that the model learnt from is asked for by its name, as "
            + "management=organic, where no grid and no setting of the server tells it. No basis for regulation, fertiliser or "
            + "carbon-credit decisions.";
        return item;
    }

    private static OpenApiSchema Prediction => Schemas.Object(
        ("k_per_day", Schemas.Number().OrNull().Meaning("Decay rate, the median of what is to be expected. Unit: d-1")),
        ("k_lower_per_day", Schemas.Number().OrNull().Meaning("Lower end of the interval of what is true of the place. Unit: d-1")),
        ("k_upper_per_day", Schemas.Number().OrNull().Meaning("Upper end. Unit: d-1")),
        ("k_measured_lower_per_day", Schemas.Number().OrNull().Meaning("Lower end of the interval of what a site there would be measured "
            + "as in one campaign. Unit: d-1")),
        ("k_measured_upper_per_day", Schemas.Number().OrNull().Meaning("Upper end. Unit: d-1")),
        ("interval_level", Schemas.Number().Meaning("Share of new site means that the interval is to hold.")),
        ("interval_of", Schemas.Text.OrNull().Meaning("The ecosystem whose own interval this is; null for that of all places.")),
        ("dissimilarity", Schemas.Number().OrNull().Meaning("Dissimilarity index from all training sites, 0 or more.")),
        ("applicable", Schemas.Boolean.OrNull().Meaning("Whether the place lies in the model's area of applicability.")),
        ("status", Schemas.Text.Meaning("predicted, or why not.")),
        ("covariates", Schemas.ArrayOf(Schemas.Object(
            ("name", Schemas.Text), ("value", Schemas.Number().OrNull()), ("unit", Schemas.Text),
            ("class", Schemas.Text.OrNull().Meaning("Of a class, its name.")),
            ("is_as_if", Schemas.Boolean.OrNull().Meaning("True where every place that states none is taken for this class."))))),
        ("buried_on", Schemas.Day.OrNull()), ("retrieved_on", Schemas.Day.OrNull()), ("depth_cm", Schemas.Number().OrNull()),
        ("coordinate_uncertainty_m", Schemas.Number().OrNull()), ("model_id", Schemas.Text),
        ("release_id", Schemas.Text.Meaning("The release that the model was trained on.")),
        ("half_life_days", Schemas.Number().OrNull().Meaning($"Half-life: {HalfLife.Meaning}. Unit: d")),
        ("half_life_lower_days", Schemas.Number().OrNull().Meaning("Lower end of its interval, ln 2 over the upper end of k. Unit: d")),
        ("half_life_upper_days", Schemas.Number().OrNull().Meaning("Upper end. Unit: d")),
        ("stabilisation", OfStabilisation.OrNull()), ("caution", Schemas.Text));

    private static OpenApiSchema OfStabilisation => Schemas.Object(
        ("s", Schemas.Number().OrNull().Meaning("Stabilisation factor S, not cut to 0 to 1. Unit: 1")),
        ("s_lower", Schemas.Number().OrNull().Meaning("Lower end of the interval of what is true of the place. Unit: 1")),
        ("s_upper", Schemas.Number().OrNull().Meaning("Upper end. Unit: 1")),
        ("s_measured_lower", Schemas.Number().OrNull().Meaning("Lower end of the interval of what a site there would be measured as in "
            + "one campaign. Unit: 1")),
        ("s_measured_upper", Schemas.Number().OrNull().Meaning("Upper end. Unit: 1")),
        ("interval_level", Schemas.Number().Meaning("Share of new site means that the interval is to hold.")),
        ("interval_of", Schemas.Text.OrNull().Meaning("The ecosystem whose own interval this is; null for that of all places.")),
        ("dissimilarity", Schemas.Number().OrNull().Meaning("Dissimilarity index from the training sites of S, 0 or more.")),
        ("applicable", Schemas.Boolean.OrNull().Meaning("Whether the place lies in the area of applicability of the model of S.")),
        ("status", Schemas.Text.Meaning("predicted, or why not.")), ("model_id", Schemas.Text),
        ("release_id", Schemas.Text.Meaning("The release that the model of S was trained on.")))
        .Meaning("What the model of S says of the place; null where the atlas has none.");

    private static OpenApiPathItem Releases()
    {
        OpenApiResponse list = Resource.Answer("The list; a page for people where they rather take HTML",
            Schemas.Object(("releases", Schemas.ArrayOf(Schemas.Object(
                ("name", Schemas.Text), ("id", Schemas.Text), ("number", new OpenApiSchema { Type = JsonSchemaType.Integer }),
                ("is_current", Schemas.Boolean), ("title", Schemas.Text.OrNull()),
                ("published_on", new OpenApiSchema { Type = JsonSchemaType.String, Format = "date" }), ("contributions", Count()),
                ("sites", Count()), ("burials", Count()), ("descriptor", Schemas.Address), ("checksums", Schemas.Address),
                ("pages", Schemas.Address.OrNull()))))));
        list.Content!["text/html"] = new OpenApiMediaType { Schema = Schemas.Text };
        static IOpenApiSchema Count() => new OpenApiSchema { Type = JsonSchemaType.Integer | JsonSchemaType.Null };

        return Resource.Get("releases",
            "The releases, the newest first, each with the address of its Data Package descriptor, which lists its files", null,
            ("200", list));
    }
}
