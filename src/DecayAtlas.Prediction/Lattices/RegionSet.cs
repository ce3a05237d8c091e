using System.Globalization;
using System.Text.Json;
using NetTopologySuite.Features;
using NetTopologySuite.Geometries;
using NetTopologySuite.IO.Converters;
using NetTopologySuite.Operation.Valid;

namespace DecayAtlas.Prediction.Lattices;

/// <summary>A polygon (or several that belong together) with a name, WGS 84 degrees.</summary>
public sealed record Region(string Name, Geometry Shape);

/// <summary>Polygons of a GeoJSON file (RFC 7946, so WGS 84).</summary>
public sealed class RegionSet
{
    private static readonly JsonSerializerOptions Options = new() { Converters = { new GeoJsonConverterFactory() } };

    private RegionSet(string path, IReadOnlyList<Region> regions)
    {
        Path = path;
        Regions = regions;
    }

    public string Path { get; }

    /// <summary>In the order of the file.</summary>
    public IReadOnlyList<Region> Regions { get; }

    /// <summary>The box around all; it goes over the antimeridian only where the file's polygons do so without a cut.</summary>
    public BoundingBox Extent
    {
        get
        {
            Envelope box = new();
            foreach (Region region in Regions)
                box.ExpandToInclude(region.Shape.EnvelopeInternal);
            return new(box.MinX, box.MinY, box.MaxX, box.MaxY);
        }
    }

    /// <summary>Reads a file: a FeatureCollection, one Feature, or one bare Polygon or MultiPolygon.</summary>
    /// <param name="nameProperty">Property that names each polygon; null takes "name" where all have it, else counts them.</param>
    /// <exception cref="PredictionException">The file is absent, no GeoJSON, holds no polygon, or one that crosses itself or leaves the
    /// Earth.</exception>
    public static RegionSet Read(string path, string? nameProperty = null)
    {
        if (!File.Exists(path))
            throw new PredictionException($"There is no polygon file {path}; correct the path.");
        FeatureCollection features;
        try
        {
            features = Parse(File.ReadAllBytes(path));
        }
        catch (Exception e) when (e is not (PredictionException or OutOfMemoryException))
        {
            // the reader answers damage with errors of many kinds
            throw new PredictionException($"{path} cannot be read as GeoJSON ({Damage.Of(e)}); expected a FeatureCollection of "
                + "polygons in WGS 84 degrees.", e);
        }
        if (features.Count == 0)
            throw new PredictionException($"{path} holds no feature; expected polygons in WGS 84 degrees.");
        bool named = nameProperty is not null || features.All(f => f.Attributes?.Exists("name") == true);
        return new(path, [.. features.Select((f, i) => new Region(
            named ? NameOf(path, f, i + 1, nameProperty ?? "name") : (i + 1).ToString(CultureInfo.InvariantCulture),
            Checked(path, f.Geometry, i + 1)))]);
    }

    private static FeatureCollection Parse(byte[] bytes)
    {
        using JsonDocument document = JsonDocument.Parse(bytes);
        string? kind = document.RootElement.ValueKind == JsonValueKind.Object
            && document.RootElement.TryGetProperty("type", out JsonElement type) ? type.GetString() : null;
        return kind switch
        {
            "FeatureCollection" => JsonSerializer.Deserialize<FeatureCollection>(bytes, Options)!,
            "Feature" => [JsonSerializer.Deserialize<IFeature>(bytes, Options)!],
            "Polygon" or "MultiPolygon" => [new Feature(JsonSerializer.Deserialize<Geometry>(bytes, Options)!, new AttributesTable())],
            _ => throw new FormatException($"its type is {kind ?? "not stated"}"),
        };
    }

    private static string NameOf(string path, IFeature feature, int number, string property) =>
        feature.Attributes?.GetOptionalValue(property) switch
        {
            null => throw new PredictionException($"{path}: feature {number} has no property {property}, which was to name it; name "
                + "another property or add it."),
            IFormattable value => value.ToString(null, CultureInfo.InvariantCulture),
            var value => value.ToString()!,
        };

    private static Geometry Checked(string path, Geometry? shape, int number)
    {
        if (shape is not (Polygon or MultiPolygon) || shape.IsEmpty)
        {
            throw new PredictionException($"{path}: feature {number} is "
                + $"{(shape is null ? "without geometry" : $"a {shape.GeometryType}")}, expected a Polygon or MultiPolygon.");
        }

        Envelope box = shape.EnvelopeInternal;
        if (!(box.MinX >= -360 && box.MaxX <= 360 && box.MinY >= -90 && box.MaxY <= 90))
        {
            throw new PredictionException($"{path}: feature {number} reaches from "
                + Invariant($"{box.MinX:0.###} to {box.MaxX:0.###} east and {box.MinY:0.###} to {box.MaxY:0.###} north")
                + ", which are not WGS 84 degrees; project it, for example with ogr2ogr -t_srs EPSG:4326.");
        }

        IsValidOp valid = new(shape);
        return valid.IsValid ? shape : throw new PredictionException(
            $"{path}: feature {number} is no sound polygon ({valid.ValidationError.Message.ToLowerInvariant()} at "
            + Invariant($"{valid.ValidationError.Coordinate.X:0.#####}, {valid.ValidationError.Coordinate.Y:0.#####}")
            + "); mend it, for example with ogr2ogr -makevalid.");
    }
}
