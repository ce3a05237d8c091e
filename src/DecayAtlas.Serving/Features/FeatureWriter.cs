using System.Text.Encodings.Web;
using System.Text.Json;

namespace DecayAtlas.Serving.Features;

/// <summary>Writes features as GeoJSON (RFC 7946), straight from the columns into the answer.</summary>
internal static class FeatureWriter
{
    public const string MediaType = "application/geo+json";

    // an answer of ten thousand features leaves in pieces, so that none is held whole
    private const int BytesAtATime = 64 << 10;

    // never put into HTML as it is, and told apart from it by its media type
    private static readonly JsonWriterOptions Options =
        new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping, SkipValidation = true };

    /// <param name="root">Address of the API, without a slash at its end.</param>
    public static async Task WritePageAsync(HttpResponse response, string root, FeatureCollectionInfo collection, FeatureTable table,
        PageRequest request, CancellationToken cancelled)
    {
        FeatureTable.Page page = table.PageOf(request);
        await using Utf8JsonWriter json = new(response.BodyWriter, Options);
        json.WriteStartObject();
        json.WriteString("type"u8, "FeatureCollection"u8);
        json.WriteStartArray("links"u8);
        WriteLink(json, "self", MediaType, Address(root, collection, request), "This page");
        if (NextOf(table, page, request) is { } next)
            WriteLink(json, "next", MediaType, Address(root, collection, next), "The next page");
        WriteLink(json, "alternate", FeatureCsv.MediaType, Address(root, collection, request with { IsCsv = true }), "This page as CSV");

        WriteLink(json, "collection", "application/json", $"{root}/collections/{collection.Id}", collection.Title);
        json.WriteEndArray();
        json.WriteNumber("numberMatched"u8, page.Matched);
        json.WriteNumber("numberReturned"u8, page.Count);
        json.WriteStartArray("features"u8);
        for (int i = 0; i < page.Count; i++)
        {
            int row = page.RowAt(i);
            json.WriteStartObject();
            WriteFeature(json, table, row);
            json.WriteEndObject();
            if (json.BytesPending + response.BodyWriter.UnflushedBytes > BytesAtATime)
            {
                json.Flush();
                await response.BodyWriter.FlushAsync(cancelled);
            }
        }

        json.WriteEndArray();
        json.WriteEndObject();
    }

    public static void WriteOne(HttpResponse response, string root, FeatureCollectionInfo collection, FeatureTable table, int row)
    {
        using Utf8JsonWriter json = new(response.BodyWriter, Options);
        json.WriteStartObject();
        WriteFeature(json, table, row);
        json.WriteStartArray("links"u8);
        WriteLink(json, "self", MediaType, $"{root}/collections/{collection.Id}/items/{table.IdOf(row)}", "This feature");
        WriteLink(json, "collection", "application/json", $"{root}/collections/{collection.Id}", collection.Title);
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void WriteFeature(Utf8JsonWriter json, FeatureTable table, int row)
    {
        json.WriteString("type"u8, "Feature"u8);
        json.WriteString("id"u8, table.IdOf(row).ToString());
        if (table.PlaceOf(row) is var (longitude, latitude))
        {
            json.WriteStartObject("geometry"u8);
            json.WriteString("type"u8, "Point"u8);
            json.WriteStartArray("coordinates"u8);
            json.WriteNumberValue(longitude);
            json.WriteNumberValue(latitude);
            json.WriteEndArray();
            json.WriteEndObject();
        }
        else
        {
            json.WriteNull("geometry"u8);
        }

        json.WriteStartObject("properties"u8);
        foreach (FeatureColumn column in table.Columns)
            column.Write(json, row);
        json.WriteEndObject();
    }

    /// <summary>The address of a page.</summary>
    public static string Address(string root, FeatureCollectionInfo collection, PageRequest request) =>
        $"{root}/collections/{collection.Id}/items" + (request.ToString() is { Length: > 0 } query ? "?" + query : "");

    /// <summary>The page after one; none after the last.</summary>
    public static PageRequest? NextOf(FeatureTable table, FeatureTable.Page page, PageRequest request) =>
        page.IsLast ? null : request with { After = table.IdOf(page.RowAt(page.Count - 1)).ToString() };

    private static void WriteLink(Utf8JsonWriter json, string relation, string mediaType, string address, string title)
    {
        json.WriteStartObject();
        json.WriteString("rel"u8, relation);
        json.WriteString("type"u8, mediaType);
        json.WriteString("href"u8, address);
        json.WriteString("title"u8, title);
        json.WriteEndObject();
    }
}
