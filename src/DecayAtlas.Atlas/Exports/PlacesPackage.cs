using Microsoft.Data.Sqlite;
using NetTopologySuite.Geometries;
using NetTopologySuite.IO;

namespace DecayAtlas.Atlas.Exports;

/// <summary>
/// Sites and burials as two layers of points of a GeoPackage (OGC 12-128r19, version 1.3). Burials lie at the published place of their
/// site. The same release gives the same bytes: what the standard wants to know of the time of a change is a fixed day.
/// </summary>
internal static class PlacesPackage
{
    private const string NoTime = "1980-01-01T00:00:00.000Z", Wgs84 =
        "GEOGCS[\"WGS 84\",DATUM[\"WGS_1984\",SPHEROID[\"WGS 84\",6378137,298.257223563,AUTHORITY[\"EPSG\",\"7030\"]],"
        + "AUTHORITY[\"EPSG\",\"6326\"]],PRIMEM[\"Greenwich\",0,AUTHORITY[\"EPSG\",\"8901\"]],UNIT[\"degree\",0.0174532925199433,"
        + "AUTHORITY[\"EPSG\",\"9122\"]],AUTHORITY[\"EPSG\",\"4326\"]]";

    /// <summary>What OGC 12-128r19 requires of every file (requirements 1 to 14 and annex C).</summary>
    private const string Frame =
        """
        PRAGMA journal_mode = OFF;
        PRAGMA synchronous = OFF;
        PRAGMA page_size = 4096;
        PRAGMA encoding = 'UTF-8';
        PRAGMA application_id = 1196444487;
        PRAGMA user_version = 10300;
        CREATE TABLE gpkg_spatial_ref_sys (srs_name TEXT NOT NULL, srs_id INTEGER NOT NULL PRIMARY KEY, organization TEXT NOT NULL,
          organization_coordsys_id INTEGER NOT NULL, definition TEXT NOT NULL, description TEXT);
        CREATE TABLE gpkg_contents (table_name TEXT NOT NULL PRIMARY KEY, data_type TEXT NOT NULL, identifier TEXT UNIQUE,
          description TEXT DEFAULT '', last_change DATETIME NOT NULL DEFAULT (strftime('%Y-%m-%dT%H:%M:%fZ','now')), min_x DOUBLE,
          min_y DOUBLE, max_x DOUBLE, max_y DOUBLE, srs_id INTEGER,
          CONSTRAINT fk_gc_r_srs_id FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys(srs_id));
        CREATE TABLE gpkg_geometry_columns (table_name TEXT NOT NULL, column_name TEXT NOT NULL, geometry_type_name TEXT NOT NULL,
          srs_id INTEGER NOT NULL, z TINYINT NOT NULL, m TINYINT NOT NULL,
          CONSTRAINT pk_geom_cols PRIMARY KEY (table_name, column_name), CONSTRAINT uk_gc_table_name UNIQUE (table_name),
          CONSTRAINT fk_gc_tn FOREIGN KEY (table_name) REFERENCES gpkg_contents(table_name),
          CONSTRAINT fk_gc_srs FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys (srs_id));
        INSERT INTO gpkg_spatial_ref_sys VALUES ('Undefined Cartesian', -1, 'NONE', -1, 'undefined', NULL),
          ('Undefined geographic', 0, 'NONE', 0, 'undefined', NULL);
        """;

    /// <param name="path">A file that is not there yet.</param>
    public static void Write(string path, ExportedTable sites, ExportedTable burials, IReadOnlyDictionary<string, Point> places,
        MappedColumns results)
    {
        using SqliteConnection connection = new(
            new SqliteConnectionStringBuilder { DataSource = path, Mode = SqliteOpenMode.ReadWriteCreate, Pooling = false }.ToString());
        connection.Open();
        Run(connection, Frame);
        Run(connection, "INSERT INTO gpkg_spatial_ref_sys VALUES ('WGS 84', 4326, 'EPSG', 4326, $wgs, NULL)", ("$wgs", Wgs84));
        using (SqliteTransaction transaction = connection.BeginTransaction())
        {
            Layer(connection, sites, [.. sites.Columns, .. MappedColumns.Infos], places, results.Of);
            Layer(connection, burials, burials.Columns, places, _ => []);
            transaction.Commit();
        }
    }

    private static void Layer(SqliteConnection connection, ExportedTable table, IReadOnlyList<ColumnInfo> columns,
        IReadOnlyDictionary<string, Point> places, Func<string, IEnumerable<object?>> further)
    {
        int key = table.Columns.Index().First(c => c.Item.Name == "site_key").Index;
        Run(connection, $"CREATE TABLE {table.Name} (fid INTEGER PRIMARY KEY NOT NULL, geom POINT, "
            + string.Join(", ", columns.Select(c => $"\"{c.Name}\" {TypeOf(c)}")) + ")");
        using SqliteCommand insert = connection.CreateCommand();
        insert.CommandText = $"INSERT INTO {table.Name} VALUES ($fid, $geom, "
            + string.Join(", ", columns.Select((_, i) => Invariant($"$c{i}"))) + ")";
        SqliteParameter fid = insert.Parameters.Add("$fid", SqliteType.Integer), shape = insert.Parameters.Add("$geom", SqliteType.Blob);
        SqliteParameter[] cells = [.. columns.Select((_, i) => insert.Parameters.AddWithValue(Invariant($"$c{i}"), DBNull.Value))];
        GeoPackageGeoWriter writer = new();
        Envelope extent = new();
        int done = 0;
        foreach (ExportedRows rows in table.Parts())
        {
            for (int row = 0; row < rows.Count; row++)
            {
                string site = (string)rows[key, row]!;
                Point? place = places.GetValueOrDefault(site);
                (fid.Value, shape.Value) = (++done, place is null ? DBNull.Value : writer.Write(place));
                for (int column = 0; column < table.Columns.Count; column++)
                    cells[column].Value = Stored(rows[column, row]);
                foreach ((int i, object? value) in further(site).Index())
                    cells[table.Columns.Count + i].Value = Stored(value);
                insert.ExecuteNonQuery();
                if (place is not null)
                    extent.ExpandToInclude(place.Coordinate);
            }
        }

        bool isNowhere = extent.IsNull;
        Run(connection, "INSERT INTO gpkg_contents VALUES ($name, 'features', $name, $about, $time, $west, $south, $east, $north, 4326)",
            ("$name", table.Name), ("$about", table.Table.Description), ("$time", NoTime), ("$west", Edge(extent.MinX)),
            ("$south", Edge(extent.MinY)), ("$east", Edge(extent.MaxX)), ("$north", Edge(extent.MaxY)));
        Run(connection, "INSERT INTO gpkg_geometry_columns VALUES ($name, 'geom', 'POINT', 4326, 0, 0)", ("$name", table.Name));

        object Edge(double degrees) => isNowhere ? DBNull.Value : degrees;
    }

    private static object Stored(object? value) => value switch
    {
        null => DBNull.Value,
        ExportedNumber number => number.Rounded,
        bool truth => truth ? 1 : 0,
        DateOnly day => day.ToString("yyyy-MM-dd", InvariantCulture),
        _ => value,
    };

    private static string TypeOf(ColumnInfo column) => column.Type switch
    {
        "number" => "DOUBLE",
        "integer" => "INTEGER",
        "boolean" => "BOOLEAN",
        "date" => "DATE",
        _ => "TEXT",
    };

    private static void Run(SqliteConnection connection, string text, params (string Name, object Value)[] values)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = text;
        foreach ((string name, object value) in values)
            command.Parameters.AddWithValue(name, value);
        command.ExecuteNonQuery();
    }
}
