using System.Globalization;
using System.Text.Json;

namespace DecayAtlas.EndToEnd;

/// <summary>The file of exposures for models, read by libraries that are not ours (GDAL, R ncdf4), held against DuckDB's reading of the
/// release and against the rules of CF 1.11, chapter 9 and appendix H.2.4 (contiguous ragged arrays).</summary>
public class SeriesForModels(DemoRun demo)
{
    private Workspace Work => demo.Workspace;

    private string Write(string name)
    {
        CommandResult made = Work.DecayAtlasHere("series", "pipeline/demo.yaml", "--output", name);
        Assert.True(made.ExitCode == 0, made.Everything);
        return Work.PathOf(name);
    }

    private JsonElement Read(string path)
    {
        Assert.SkipUnless(Command.Has("gdalmdiminfo"), "gdalmdiminfo is not installed (Debian package gdal-bin)");
        CommandResult read = Command.Run(Work.Folder, "gdalmdiminfo", "-detailed", path);
        Assert.SkipWhen(read.Everything.Contains("not recognized", StringComparison.Ordinal), "this GDAL was built without netCDF");
        Assert.True(read.ExitCode == 0, read.Everything);
        return JsonDocument.Parse(read.Output.Replace("NaN", "null", StringComparison.Ordinal)).RootElement;
    }

    private static JsonElement[] Values(JsonElement file, string array) =>
        [.. file.GetProperty("arrays").GetProperty(array).GetProperty("values").EnumerateArray()];

    private static double?[] Numbers(JsonElement file, string array) =>
        [.. Values(file, array).Select(v => v.ValueKind == JsonValueKind.Number ? v.GetDouble() : (double?)null)];

    [Fact]
    public void Numbers_are_those_of_the_release()
    {
        JsonElement file = Read(Write("series.nc"));
        IReadOnlyList<object?[]> rows = Work.Query("""
            SELECT s.site_key, s.decimal_latitude, date_diff('day', DATE '1970-01-01', b.buried_on), date_diff('day', DATE '1970-01-01', b.retrieved_on),
                b.depth_cm, f.remaining_fraction, sqrt(f.remaining_fraction_u ** 2 + coalesce(f.remaining_fraction_u_batch, 0) ** 2 + coalesce(f.remaining_fraction_u_lot, 0) ** 2),
                w.remaining_fraction, w.remaining_fraction_u_lot, t.value, p.value, m.value, CASE b.use WHEN 'accepted' THEN 1 ELSE 0 END
            FROM read_parquet('atlas/current/burials/**/*.parquet') b
            JOIN read_parquet('atlas/current/sites/**/*.parquet') s USING (site_key)
            LEFT JOIN read_parquet('atlas/current/bags/**/*.parquet') f ON f.contribution_id = b.contribution_id AND f.bag_id = b.fast_bag_id
            LEFT JOIN read_parquet('atlas/current/bags/**/*.parquet') w ON w.contribution_id = b.contribution_id AND w.bag_id = b.slow_bag_id
            LEFT JOIN read_parquet('atlas/current/burial_covariates/*.parquet') t ON t.contribution_id = b.contribution_id AND t.burial_id = b.burial_id AND t.covariate = 'air_temperature_exposure'
            LEFT JOIN read_parquet('atlas/current/burial_covariates/*.parquet') p ON p.contribution_id = b.contribution_id AND p.burial_id = b.burial_id AND p.covariate = 'precipitation_exposure'
            LEFT JOIN read_parquet('atlas/current/covariates/*.parquet') m ON m.site_key = b.site_key AND m.covariate = 'soil_moisture'
            WHERE b.use <> 'rejected' AND b.retrieved_on > b.buried_on AND s.decimal_latitude IS NOT NULL
                AND (f.remaining_fraction IS NOT NULL OR w.remaining_fraction IS NOT NULL)
            ORDER BY s.site_key, b.retrieved_on, b.buried_on, b.contribution_id, b.burial_id
            """);
        Assert.True(rows.Count > 1000, $"{rows.Count} rows");
        int[] sizes = [.. Values(file, "row_size").Select(v => v.GetInt32())];
        Assert.Equal(rows.Count, sizes.Sum());
        Assert.Equal(rows.Select(r => (string)r[0]!).Distinct().Count(), sizes.Length);
        int[] siteOf = [.. sizes.SelectMany((size, site) => Enumerable.Repeat(site, size))];
        double?[] latitudes = Numbers(file, "lat"), moisture = Numbers(file, "soil_moisture");
        Compare(1, [.. siteOf.Select(s => latitudes[s])]);
        Compare(11, [.. siteOf.Select(s => moisture[s])]);
        Compare(3, Numbers(file, "time"));
        double?[][] bounds = [.. Values(file, "time_bounds").Select(b => b.EnumerateArray().Select(v => (double?)v.GetDouble()).ToArray())];
        Compare(2, [.. bounds.Select(b => b[0])]);
        Compare(3, [.. bounds.Select(b => b[1])]);
        (int Column, string Array)[] pairs =
        [
            (4, "depth"), (5, "fast_remaining_fraction"), (6, "fast_remaining_fraction_standard_uncertainty"),
            (7, "slow_remaining_fraction"), (8, "slow_remaining_fraction_standard_uncertainty_lot"), (9, "air_temperature_exposure"),
            (10, "precipitation_exposure"), (12, "use"),
        ];
        foreach ((int column, string array) in pairs)
            Compare(column, Numbers(file, array));

        void Compare(int column, double?[] found)
        {
            for (int i = 0; i < rows.Count; i++)
            {
                double? expected = rows[i][column] is { } value ? Convert.ToDouble(value, CultureInfo.InvariantCulture) : null;
                Assert.True(expected is null == found[i] is null && Math.Abs((expected ?? 0) - (found[i] ?? 0)) < 1e-9,
                    $"row {i}, column {column}: {expected} and {found[i]}");
            }
        }
    }

    [Fact]
    public void The_rules_of_CF_for_series_of_sites_are_kept_and_the_same_release_gives_the_same_bytes()
    {
        string path = Write("series-a.nc");
        Assert.Equal(File.ReadAllBytes(path), File.ReadAllBytes(Write("series-b.nc")));
        JsonElement file = Read(path);
        JsonElement about = file.GetProperty("attributes"), arrays = file.GetProperty("arrays");
        Assert.Equal(("CF-1.11", "timeSeries"), (Text(about, "Conventions"), Text(about, "featureType")));
        Assert.All((string[])["title", "institution", "source", "history", "comment"], name => Assert.NotEmpty(Text(about, name)));
        Assert.Equal("timeseries_id", Text(Of("site_key"), "cf_role"));
        Assert.Equal("obs", Text(Of("row_size"), "sample_dimension"));
        Assert.Equal("time_bounds", Text(Of("time"), "bounds"));
        Assert.Single(arrays.EnumerateObject(),
            a => a.Value.TryGetProperty("attributes", out JsonElement own) && own.TryGetProperty("cf_role", out _));
        foreach (JsonProperty array in arrays.EnumerateObject())
        {
            JsonElement own = array.Value.TryGetProperty("attributes", out JsonElement all) ? all : default;
            if (own.ValueKind != JsonValueKind.Object)
                continue;
            foreach (string named in (string[])["coordinates", "ancillary_variables", "bounds"])
            {
                if (own.TryGetProperty(named, out _))
                    Assert.All(Text(own, named).Split(' '), name => Assert.True(arrays.TryGetProperty(name, out _), $"{array.Name}: {name}"));
            }

            if (own.TryGetProperty("flag_values", out JsonElement flags))
                Assert.Equal(flags.GetProperty("value").GetArrayLength(), Text(own, "flag_meanings").Split(' ').Length);
            Assert.True(array.Name.EndsWith("_bounds", StringComparison.Ordinal) || own.TryGetProperty("long_name", out _), array.Name);
        }

        double?[] start = [.. Values(file, "time_bounds").Select(b => (double?)b[0].GetDouble())], end = Numbers(file, "time");
        Assert.All(start.Zip(end), pair => Assert.True(pair.First < pair.Second));
        Assert.DoesNotContain(Numbers(file, "lat").Concat(Numbers(file, "lon")).Concat(end), n => n is null);

        // of sensitive sites what the release tells: a cell's centre, and nothing of grids
        double?[] hidden = Numbers(file, "coordinates_generalised"), clay = Numbers(file, "clay"), latitude = Numbers(file, "lat");
        Assert.Contains(1.0, hidden);
        for (int i = 0; i < hidden.Length; i++)
        {
            if (hidden[i] == 1)
                Assert.True(clay[i] is null && Math.Abs(Math.IEEERemainder(latitude[i]!.Value * 10 - 0.5, 1)) < 1e-6, $"site {i}");
        }

        JsonElement Of(string name) => arrays.GetProperty(name).GetProperty("attributes");

        static string Text(JsonElement attributes, string name)
        {
            JsonElement found = attributes.GetProperty(name);
            return (found.ValueKind == JsonValueKind.Object ? found.GetProperty("value") : found).GetString()!;
        }
    }

    [Fact]
    public void R_reads_it_as_the_page_for_modellers_says()
    {
        Assert.SkipUnless(Command.Has("Rscript"), "Rscript is not installed (Debian package r-base-core)");
        Assert.SkipUnless(Command.Run(Work.Folder, "Rscript", "-e", "quit(status = !nzchar(system.file(package = 'ncdf4')))").ExitCode == 0,
            "R with ncdf4 (Debian package r-cran-ncdf4) is not installed");
        Write("series.nc");
        string page = File.ReadAllText(Project.PathOf("docs/for-modellers.md")).Split("library(ncdf4)")[1].Split("```")[0];
        File.WriteAllText(Work.PathOf("series.R"), "library(ncdf4)" + page + "\ncat(nrow(x), sum(x$fast, na.rm = TRUE), '\\n')\n");
        CommandResult read = Command.Run(Work.Folder, "Rscript", "--vanilla", "series.R");
        Assert.True(read.ExitCode == 0, read.Everything);
        string[] said = read.Output.TrimEnd().Split('\n')[^1].Trim().Split(' ');
        object?[] expected = Work.Query("""
            SELECT count(*), sum(f.remaining_fraction) FROM read_parquet('atlas/current/burials/**/*.parquet') b
            JOIN read_parquet('atlas/current/sites/**/*.parquet') s USING (site_key)
            LEFT JOIN read_parquet('atlas/current/bags/**/*.parquet') f ON f.contribution_id = b.contribution_id AND f.bag_id = b.fast_bag_id
            LEFT JOIN read_parquet('atlas/current/bags/**/*.parquet') w ON w.contribution_id = b.contribution_id AND w.bag_id = b.slow_bag_id
            WHERE b.use = 'accepted' AND (b.treatment IS NULL OR b.treatment = 'control') AND b.retrieved_on > b.buried_on AND s.decimal_latitude IS NOT NULL
                AND (f.remaining_fraction IS NOT NULL OR w.remaining_fraction IS NOT NULL)
            """)[0];
        Assert.Equal(Convert.ToInt64(expected[0], CultureInfo.InvariantCulture), long.Parse(said[0], CultureInfo.InvariantCulture));
        double sum = Convert.ToDouble(expected[1], CultureInfo.InvariantCulture);
        Assert.Equal(sum, double.Parse(said[1], CultureInfo.InvariantCulture), sum * 1e-5); // R prints seven digits
    }
}
