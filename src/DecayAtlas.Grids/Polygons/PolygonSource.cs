using System.Globalization;
using System.Text.Json;
using Microsoft.Data.Sqlite;
using NetTopologySuite.Features;
using NetTopologySuite.Geometries;
using NetTopologySuite.IO;
using NetTopologySuite.IO.Converters;
using NetTopologySuite.IO.Esri;

namespace DecayAtlas.Grids.Polygons;

/// <summary>Units as a file holds them; no projection where the file names none.</summary>
internal sealed record PolygonSource(Projection? Projection, IReadOnlyList<(Geometry Shape, string? Text)> Units)
{
    /// <summary>An attribute as text, numbers with a decimal point.</summary>
    public static string? TextOf(object? value) => value switch
    {
        null or DBNull => null,
        string { Length: 0 } => null,
        IFormattable number => number.ToString(null, CultureInfo.InvariantCulture),
        _ => value.ToString(),
    };

    public static GridException NoAttribute(string path, string attribute, IEnumerable<string> there) =>
        new($"{path} has no attribute {attribute}; it has {string.Join(", ", there)}.");
}

/// <summary>GeoJSON (RFC 7946), which is in WGS 84 by definition; the member crs of its predecessor is honoured.</summary>
internal static class GeoJsonSource
{
    private static readonly JsonSerializerOptions Options = new() { Converters = { new GeoJsonConverterFactory() } };

    public static PolygonSource Read(string path, string attribute)
    {
        byte[] bytes = File.ReadAllBytes(path);
        FeatureCollection features = JsonSerializer.Deserialize<FeatureCollection>(bytes, Options)
            ?? throw new GridException($"{path} is empty.");
        string[] names = [.. features.SelectMany(f => f.Attributes?.GetNames() ?? []).Distinct()];
        if (!names.Contains(attribute))
            throw PolygonSource.NoAttribute(path, attribute, names);

        using JsonDocument document = JsonDocument.Parse(bytes);
        string? crs = document.RootElement.TryGetProperty("crs", out JsonElement member) && member.ValueKind == JsonValueKind.Object
            ? member.GetProperty("properties").GetProperty("name").GetString() : null;
        // urn:ogc:def:crs:EPSG::3035 and urn:ogc:def:crs:OGC:1.3:CRS84
        string[] parts = crs?.Split(':') ?? [];
        Projection projection = crs is null ? Projection.Wgs84
            : parts.Length >= 2 ? Projection.FromText($"{(parts.Contains("EPSG") ? "EPSG" : "OGC")}:{parts[^1]}")
                : Projection.FromText(crs);
        return new PolygonSource(projection, [.. features.Where(f => f.Geometry is not null)
            .Select(f => (f.Geometry, PolygonSource.TextOf(f.Attributes?.GetOptionalValue(attribute))))]);
    }
}

/// <summary>An Esri shapefile with its .dbf beside it; the .prj, where there is one, is the reference system.</summary>
internal static class ShapefileSource
{
    public static PolygonSource Read(string path, string attribute)
    {
        Feature[] features = Shapefile.ReadAllFeatures(path);
        string[] names = features.Length > 0 ? features[0].Attributes.GetNames() : [];
        if (!names.Contains(attribute))
            throw PolygonSource.NoAttribute(path, attribute, names);

        string system = Path.ChangeExtension(path, ".prj");
        return new PolygonSource(
            File.Exists(system) ? Projection.FromWkt(File.ReadAllText(system)) : null,
            [.. features.Select(f => (f.Geometry, PolygonSource.TextOf(f.Attributes[attribute])))]);
    }
}

/// <summary>A table of features of a GeoPackage (OGC 12-128r19), opened for reading only.</summary>
internal static class GeoPackageSource
{
    public static PolygonSource Read(string path, string attribute, string? layer)
    {
        using SqliteConnection connection = new(
            new SqliteConnectionStringBuilder { DataSource = path, Mode = SqliteOpenMode.ReadOnly, Pooling = false }.ToString());
        connection.Open();
        (string Table, string Column, int System)[] tables = [.. Rows(connection,
            "SELECT table_name, column_name, srs_id FROM gpkg_geometry_columns ORDER BY table_name",
            row => (row.GetString(0), row.GetString(1), row.GetInt32(2)))];
        string names = string.Join(", ", tables.Select(t => t.Table));
        if (layer is null ? tables.Length != 1 : tables.All(t => t.Table != layer))
            throw new GridException($"{path} holds the layers {names}; name one of them.");

        (string table, string column, int system) = tables.First(t => layer is null || t.Table == layer);
        return new PolygonSource(SystemOf(connection, system), UnitsOf(path, connection, table, column, attribute));
    }

    // Systems 0 and -1 are "undefined" by the standard.
    private static Projection? SystemOf(SqliteConnection connection, int system) => system is 0 or -1 ? null
        : Rows(connection, "SELECT organization, organization_coordsys_id, definition FROM gpkg_spatial_ref_sys WHERE srs_id = $id",
            row => row.GetString(0).Equals("EPSG", StringComparison.OrdinalIgnoreCase) && row.GetInt32(1) == 4326
                ? Projection.Wgs84 : Projection.FromWkt(row.GetString(2)), ("$id", system)).FirstOrDefault();

    private static (Geometry Shape, string? Text)[] UnitsOf(string path, SqliteConnection connection, string table, string column,
        string attribute)
    {
        string[] there = [.. Rows(connection, "SELECT name FROM pragma_table_info($table)", row => row.GetString(0), ("$table", table))];
        if (!there.Contains(attribute))
            throw PolygonSource.NoAttribute(path, attribute, there.Where(name => name != column));

        GeoPackageGeoReader reader = new();
        return [.. Rows(connection, $"SELECT {Quoted(column)}, {Quoted(attribute)} FROM {Quoted(table)} "
            + $"WHERE {Quoted(column)} IS NOT NULL ORDER BY rowid", row => (reader.Read((byte[])row[0]), PolygonSource.TextOf(row[1])))];
    }

    private static IEnumerable<T> Rows<T>(SqliteConnection connection, string query, Func<SqliteDataReader, T> read,
        (string Name, object Value)? parameter = null)
    {
        using SqliteCommand command = connection.CreateCommand();
#pragma warning disable CA2100 // names of a table and its columns, quoted, taken from the file's own lists
        command.CommandText = query;
#pragma warning restore CA2100
        if (parameter is var (name, value))
            command.Parameters.AddWithValue(name, value);

        using SqliteDataReader rows = command.ExecuteReader();
        while (rows.Read())
            yield return read(rows);
    }

    private static string Quoted(string name) => $"\"{name.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
}
