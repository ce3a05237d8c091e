using System.Text;
using System.Text.Json;

namespace DecayAtlas.Atlas.Tests;

/// <summary>Every released table read back by DuckDB 1.5, with hive partitioning.</summary>
public class ReleaseAsDuckDbReadsIt : AtlasInTemporaryFolder
{
    [Fact]
    public void Every_table_has_its_rows_and_every_column_its_name_and_type()
    {
        ReleaseOutcome outcome = Publish();

        foreach (Table table in AtlasTables.All)
        {
            string from = $"read_parquet('$current/{table.Name}/**/*.parquet', hive_partitioning = true, union_by_name = false)";
            Assert.Equal((long)outcome.RowCounts[table.Name], Query($"SELECT count(*) FROM {from}")[0][0]);
            Dictionary<string, string> described = Query($"SELECT column_name, column_type FROM (DESCRIBE SELECT * FROM {from})")
                .ToDictionary(r => (string)r[0]!, r => (string)r[1]!);
            Assert.Equal(
                table.ColumnInfos.Select(c => c.Name).Concat(table.PartitionedBy).Order(),
                described.Keys.Order());
            foreach (ColumnInfo column in table.ColumnInfos.Where(c => c.Name != "geometry"))
            {
                string expected =
                    column.Type switch
                    {
                        "number" => "DOUBLE",
                        "integer" => "INTEGER",
                        "boolean" => "BOOLEAN",
                        "date" => "DATE",
                        _ => "VARCHAR"
                    };
                Assert.Equal(expected, described[column.Name]);
            }
        }
    }

    [Fact]
    public void Values_come_back_as_they_went_in()
    {
        Publish();
        object?[] row = Query("""
            SELECT mass_final_g, retrieved_on, unused_material, remaining_fraction, treatment, retrieved_year, block
            FROM read_parquet('$current/bags/**/*.parquet', hive_partitioning = true) WHERE bag_id = '0f'
            """)[0];

        Assert.Equal(0.95, row[0]);
        Assert.Equal(new DateOnly(2024, 7, 1), row[1]);
        Assert.Equal(true, row[2]);
        Assert.Equal((0.95 - 0.25) / (2.25 - 0.25), row[3]);
        Assert.Null(row[4]);
        Assert.Equal(2024L, row[5]);
        Assert.Equal("N50E010", row[6]);
    }

    [Fact]
    public void A_missing_partition_value_reads_as_missing()
    {
        Publish();
        List<object?[]> rows =
            Query("SELECT burial_id, k_missing_because FROM read_parquet('$current/burials/**/*.parquet', hive_partitioning = true) "
            + "WHERE retrieved_year IS NULL AND block IS NULL");
        Assert.Equal(["2", "retrieval-not-reported"], Assert.Single(rows));
    }

    [Fact]
    public void Units_and_meanings_are_in_the_file_metadata()
    {
        Publish();
        Dictionary<string, string> metadata =
            Query("SELECT decode(key), decode(value) FROM "
            + "parquet_kv_metadata('$current/burials/retrieved_year=2024/block=N50E010/burials.parquet')")
            .ToDictionary(r => (string)r[0]!, r => (string)r[1]!);
        JsonElement k = JsonDocument.Parse(metadata["decayatlas.columns"]).RootElement.GetProperty("k_per_day");

        Assert.Equal("burials", metadata["decayatlas.table"]);
        Assert.Equal("d-1", k.GetProperty("unit").GetString());
        Assert.NotEqual("", k.GetProperty("description").GetString());
    }

    [Fact]
    public void Files_are_compressed_with_zstd() => Assert.Equal("ZSTD", AfterPublishing(
        "SELECT DISTINCT compression FROM parquet_metadata('$current/bags/**/*.parquet')"));

    [Fact]
    public void Sites_are_GeoParquet()
    {
        Publish();
        // required members: GeoParquet specification 1.1.0, "File metadata" and "Column metadata"
        string geo =
            (string)Query(
                "SELECT decode(value) FROM parquet_kv_metadata('$current/sites/block=N50E010/sites.parquet') WHERE decode(key) = 'geo'")[0][0]!;
        JsonElement root = JsonDocument.Parse(geo).RootElement;
        Assert.Equal("1.1.0", root.GetProperty("version").GetString());
        Assert.Equal("geometry", root.GetProperty("primary_column").GetString());
        JsonElement column = root.GetProperty("columns").GetProperty("geometry");
        Assert.Equal("WKB", column.GetProperty("encoding").GetString());
        Assert.Equal(["Point"], column.GetProperty("geometry_types").EnumerateArray().Select(e => e.GetString()));
        Assert.Equal([10.04, 50.04, 10.04, 50.04], column.GetProperty("bbox").EnumerateArray().Select(e => e.GetDouble()));

        // DuckDB takes the column for what the metadata says it is
        Assert.Equal(["GEOMETRY('OGC:CRS84')", "POINT (10.04 50.04)"],
            Query("SELECT typeof(geometry), geometry::VARCHAR FROM read_parquet('$current/sites/block=N50E010/sites.parquet')")[0]);
    }

    [Fact]
    public void A_sensitive_site_is_released_with_the_centre_of_its_cell_and_no_local_detail()
    {
        Publish();
        object?[] row = Query("""
            SELECT decimal_latitude, decimal_longitude, coordinate_uncertainty_m, coordinates_generalised, elevation_m, management_note
            FROM read_parquet('$current/sites/**/*.parquet', hive_partitioning = true) WHERE site_key = 'g1/S2'
            """)[0];
        Assert.Equal([-33.25, -70.55, 7892.0, true, null, null], row);
        Assert.DoesNotContain("33.21", File.ReadAllText(Path.Combine(Atlas.Current, "sites.geojson"), Encoding.UTF8),
            StringComparison.Ordinal);
    }

    /// <summary>One sample of the fast and two of the slow bag of burial 0, one at the sensitive site, one of a burial without
    /// retrieval and so without k.</summary>
    [Fact]
    public void A_sample_stands_beside_k_and_S_of_its_burial_without_a_join()
    {
        Publish();
        List<object?[]> rows = Query("""
            SELECT s.sample_id, s.bag_id, s.role, s.burial_id, s.k_per_day IS NULL,
                   row(s.k_per_day, s.k_u_per_day, s.s, s.s_u, s.use, s.site_key, s.campaign)
                   IS NOT DISTINCT FROM row(b.k_per_day, b.k_u_per_day, b.s, b.s_u, b.use, b.site_key, b.campaign),
                   s.accession, s.archive, s.elevation_m, s.richness, b.k_missing_because
            FROM read_parquet('$current/samples/*.parquet') AS s
            LEFT JOIN read_parquet('$current/burials/**/*.parquet', hive_partitioning = true) AS b USING (contribution_id, burial_id)
            ORDER BY s.sample_id
            """);

        Assert.Equal(
            [
                ["x0", "0f", "fast", "0", false, true, "ACC1", "an archive", 100.0, 214.0, null],
                ["x1", "0s", "slow", "0", false, true, "ACC1", "an archive", 100.0, 214.0, null],
                ["x2", "0s", "slow", "0", false, true, "ACC1", "an archive", 100.0, 214.0, null],
                ["x3", "1s", "slow", "1", false, true, null, null, null, 214.0, null],
                ["x4", "2s", "slow", "2", true, true, "ACC1", "an archive", 100.0, 214.0, "retrieval-not-reported"],
            ],
            rows);
    }

    private string AfterPublishing(string sql)
    {
        Publish();
        return (string)Assert.Single(Query(sql))[0]!;
    }
}
