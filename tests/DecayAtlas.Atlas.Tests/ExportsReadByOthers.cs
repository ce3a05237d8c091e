using System.IO.Compression;
using System.Text;
using ExcelDataReader;
using Microsoft.Data.Sqlite;
using NetTopologySuite.IO;

namespace DecayAtlas.Atlas.Tests;

/// <summary>The files made of a release, held against what DuckDB 1.5 reads from its Parquet files: CSV read by DuckDB, the workbook by
/// ExcelDataReader 3.6, the GeoPackage by SQLite and NetTopologySuite.</summary>
public sealed class ExportsReadByOthers : AtlasInTemporaryFolder
{
    private readonly string _folder = Directory.CreateTempSubdirectory("decayatlas-exports-").FullName;

    [Fact]
    public void Csv_has_the_rows_and_missing_values_of_the_parquet_files_and_their_numbers_within_the_error()
    {
        Export();

        foreach (Table table in AtlasTables.All)
        {
            string parquet = $"read_parquet('$current/{table.Name}/**/*.parquet', hive_partitioning = true)",
                csv = $"read_csv('{_folder}/{ReleaseExports.CsvOf(table.Name)}', header = true, all_varchar = true, allow_quoted_nulls = false)";
            string[] names = [.. table.ExportedColumns.Select(c => c.Name)];
            string counts = string.Join(", ", names.Select(n => $"count(\"{n}\")").Prepend("count(*)"));
            Assert.Equal(names, Query($"SELECT column_name FROM (DESCRIBE SELECT * FROM {csv})").Select(r => r[0]));
            Assert.Equal(Query($"SELECT {counts} FROM {parquet}")[0], Query($"SELECT {counts} FROM {csv}")[0]);
            foreach (string number in table.ExportedColumns.Where(c => c.Type is "number" or "integer").Select(c => c.Name))
            {
                // two significant digits leave at most a twentieth of a number; a value moves by less than its error
                string sum = $"coalesce(sum(\"{number}\"::DOUBLE), 0)::DOUBLE, coalesce(sum(abs(\"{number}\"::DOUBLE)), 0)::DOUBLE";
                object?[] full = Query($"SELECT {sum} FROM {parquet}")[0], rounded = Query($"SELECT {sum} FROM {csv}")[0];
                Assert.True(Math.Abs((double)full[0]! - (double)rounded[0]!) <= 0.05 * (double)full[1]!,
                    $"{table.Name}.{number}: {full[0]} {rounded[0]}");
            }
        }
    }

    [Fact]
    public void A_text_that_a_spreadsheet_would_compute_is_text_in_csv_and_workbook()
    {
        ContributorRows rows = Given.Rows();
        ReleasedSite site = AtlasTables.Sites.RowsOf(rows.RunOf("sites/block=N50E010/sites.parquet"))[0] with
        {
            Block = "N50E010",
            ManagementNote = "=HYPERLINK(\"http://x.example\")",
        };
        rows.Add(AtlasTables.Sites, [site]);
        new ReleaseWriter(Atlas).Publish(Files(Atlas, rows), Given.Statement);
        Make(_folder);

        Assert.Contains("\"'=HYPERLINK(\"\"http://x.example\"\")\"",
            File.ReadAllText(Path.Combine(_folder, ReleaseExports.CsvOf("sites"))), StringComparison.Ordinal);
        using ZipArchive book = ZipFile.OpenRead(Path.Combine(_folder, ReleaseExports.BookName));
        string sheet = string.Concat(book.Entries.Where(e => e.FullName.Contains("sheets/", StringComparison.Ordinal)).Select(Read));
        Assert.Contains("<t xml:space=\"preserve\">=HYPERLINK(", sheet, StringComparison.Ordinal);
        Assert.DoesNotContain("<f>", sheet, StringComparison.Ordinal);
    }

    [Fact]
    public void The_workbook_has_a_sheet_a_table_with_its_rows_numbers_and_days()
    {
        Encoding.RegisterProvider(CodePagesEncodingProvider.Instance);
        Export();

        using IExcelDataReader reader = ExcelReaderFactory.CreateReader(File.OpenRead(Path.Combine(_folder, ReleaseExports.BookName)));
        Dictionary<string, List<object?[]>> sheets = [];
        do
        {
            List<object?[]> rows = sheets[reader.Name] = [];
            while (reader.Read())
                rows.Add([.. Enumerable.Range(0, reader.FieldCount).Select(reader.GetValue)]);
        }
        while (reader.NextResult());

        Assert.Equal(["contents", "columns", .. AtlasTables.All.Select(t => t.Name)], sheets.Keys);
        foreach (Table table in AtlasTables.All)
        {
            long count = (long)Query($"SELECT count(*) FROM read_parquet('$current/{table.Name}/**/*.parquet')")[0][0]!;
            Assert.Equal(count + 1, sheets[table.Name].Count);
        }

        object?[] bag = sheets["bags"].Single(r => Equals(r[Array.IndexOf(sheets["bags"][0], "bag_id")], "0f"));
        Assert.Equal(0.95, bag[Array.IndexOf(sheets["bags"][0], "mass_final_g")]);
        Assert.Equal(new DateTime(2024, 7, 1), bag[Array.IndexOf(sheets["bags"][0], "retrieved_on")]);
    }

    [Fact]
    public void Layers_of_the_GeoPackage_have_every_row_points_where_a_place_is_public_and_nothing_at_0_0()
    {
        Export();
        using SqliteConnection connection = new($"Data Source={Path.Combine(_folder, ReleaseExports.PlacesName)};Pooling=False");
        connection.Open();

        List<object[]> sites = Rows(connection, "SELECT site_key, geom, k_per_day, s, use FROM sites ORDER BY site_key");
        Assert.Equal(["g1/S1", "g1/S2", "g1/S3"], sites.Select(s => s[0]));
        GeoPackageGeoReader reader = new();
        // S2 is sensitive: -33.21, -70.55 lies in the cell of which this is the centre
        Assert.Equal([(10.04, 50.04), (-70.55, -33.25)], sites.Take(2).Select(s => reader.Read((byte[])s[1])).Select(p => (p.Coordinate.X,
            p.Coordinate.Y)));
        Assert.IsType<DBNull>(sites[2][1]);
        Assert.All(sites, s => Assert.Equal(0.2, s[3]));
        Assert.Equal(3L, Rows(connection, "SELECT count(*) FROM burials")[0][0]);
        Assert.Equal([1196444487L, "1980-01-01T00:00:00.000Z"],
            [Rows(connection, "PRAGMA application_id")[0][0], Rows(connection, "SELECT DISTINCT last_change FROM gpkg_contents")[0][0]]);
    }

    [Fact]
    public void A_map_has_k_S_their_intervals_and_use_of_each_site_and_no_place_for_one_at_0_0()
    {
        ReleasedSite site = new()
        {
            SiteKey = "g/empty-form",
            ContributorId = "g",
            ContributionId = "c",
            IsGeneralised = false,
            Use = "rejected",
            LatitudeDegrees = 0,
            LongitudeDegrees = 0,
        };
        ReleasedSiteCampaign older = new()
        {
            SiteKey = "g/empty-form",
            Campaign = "a",
            Burials = 2,
            RateBurials = 2,
            RateNotPositiveBurials = 0,
            RateAtLeastBurials = 0,
            LnRateBurials = 2,
            StabilisationBurials = 2,
            RateGeometricMeanPerDay = 0.02,
            LastRetrievedOn = new(2023, 7, 1),
        };
        ReleasedSiteCampaign newer = older with
        {
            Campaign = "b",
            RateGeometricMeanPerDay = 0.0123456,
            RateGeometricMeanLower95PerDay = 0.0101,
            StabilisationMean = 0.3,
            RateGeometricMeanUpper95PerDay = 0.0149,
            LastRetrievedOn = new(2024, 7, 1),
        };
        using MemoryStream stream = new();
        SiteGeoJson.Write(stream, [site], [newer, older, newer with { Treatment = "warmed", RateGeometricMeanPerDay = 0.05 }]);

        string text = Encoding.UTF8.GetString(stream.ToArray());
        Assert.Contains("\"geometry\":null", text, StringComparison.Ordinal);
        // a quarter of 0.0048 is 0.0012
        Assert.Contains("\"campaign\":\"b\",\"campaigns\":2,\"evidence\":\"weighed\",\"k_burials\":2,\"k_per_day\":0.0123,"
            + "\"k_lower95_per_day\":0.0101,\"k_upper95_per_day\":0.0149,", text, StringComparison.Ordinal);
        Assert.Contains("\"use\":\"rejected\"", text, StringComparison.Ordinal);
    }

    [Fact]
    public void The_same_release_gives_the_same_bytes_and_none_of_a_sensitive_place()
    {
        Export();
        string again = Directory.CreateDirectory(Path.Combine(_folder, "again")).FullName;
        Make(again);
        Dictionary<string, string> second = Bytes(again), first = Bytes(_folder);

        Assert.Equal(AtlasTables.All.Count + 3, second.Count);
        Assert.All(second, file => Assert.Equal(first[file.Key], file.Value));
        using ZipArchive whole = ZipFile.OpenRead(Path.Combine(_folder, ReleaseExports.WholeName));
        Assert.Equal(second.Count - 1 + 4, whole.Entries.Count);
        Assert.All(whole.Entries.Where(e => e.Name.EndsWith(".csv", StringComparison.Ordinal) || e.Name.Contains("json")),
            entry => Assert.DoesNotContain("33.21", Read(entry), StringComparison.Ordinal));
    }

    private void Export()
    {
        Publish();
        Make(_folder);
    }

    private void Make(string folder) => new ReleaseExports(Atlas, Atlas.CurrentRelease()!).WriteTo(folder);

    private static string Read(ZipArchiveEntry entry)
    {
        using StreamReader reader = new(entry.Open());
        return reader.ReadToEnd();
    }

    private static List<object[]> Rows(SqliteConnection connection, string sql)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        using SqliteDataReader reader = command.ExecuteReader();
        List<object[]> rows = [];
        while (reader.Read())
        {
            object[] row = new object[reader.FieldCount];
            reader.GetValues(row);
            rows.Add(row);
        }

        return rows;
    }
}
