using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using NetTopologySuite.Features;
using NetTopologySuite.Geometries;
using NetTopologySuite.IO.Converters;

namespace DecayAtlas.Demo.Tests;

public sealed class PlaceTests(ScenarioFixture scenario)
{
    private static readonly JsonSerializerOptions GeoJson = new() { Converters = { new GeoJsonConverterFactory() } };

    [Fact]
    public void Every_covariate_has_a_value_at_every_site_but_those_planted_without()
    {
        (string ContributionId, SiteRow Row)[] sites = Sites().ToArray();
        GeoPoint[] points = [.. sites.Select(site => new GeoPoint(site.Row.DecimalLongitude, site.Row.DecimalLatitude))];
        IReadOnlyList<CatalogueEntry> entries = GridCatalogue.Load(Path.Combine(scenario.Folder, "grids.yaml")).Entries;
        Assert.Equal(scenario.Summary.Grids, entries.Count);
        foreach (LayerSource layer in entries.SelectMany(entry => entry.Made.Layers))
        {
            IReadOnlyList<LayerSample> samples = layer.Sample(points, new double?[points.Length]);
            for (int i = 0; i < sites.Length; i++)
            {
                bool planted = IsPlanted(sites[i].ContributionId, sites[i].Row, "covariate-missing");
                Assert.True(
                    planted == (samples[i].Sample.Value is null
                        && samples[i].Label is null), $"{layer.Owner} {layer.Name} at {sites[i].ContributionId} {sites[i].Row.SiteId}: "
                        + $"{samples[i].Sample.Status}");
            }
        }
    }

    [Fact]
    public void A_site_lies_in_its_country_unless_planted_otherwise_and_then_lies_far_away()
    {
        Dictionary<string, Geometry> countries = JsonSerializer.Deserialize<FeatureCollection>(
            File.ReadAllText(Path.Combine(scenario.Folder, "countries.geojson")), GeoJson)!
            .Where(feature => feature.Attributes.Exists("country_code"))
            .ToDictionary(feature => (string)feature.Attributes["country_code"], feature => feature.Geometry);
        Assert.Equal(["XA", "XB"], countries.Keys.Order());
        foreach ((string contribution, SiteRow row) in Sites().Where(site => site.Row.CountryCode is not null))
        {
            double degrees = countries[row.CountryCode!].Distance(new Point(row.DecimalLongitude, row.DecimalLatitude));
            bool planted = IsPlanted(contribution, row, "far-from-country");
            // Half a degree is at least 40 km here, whichever way it points.
            Assert.True(planted ? degrees > 0.5 : degrees == 0, $"{contribution} {row.SiteId}: {degrees}");
        }
    }

    [Fact]
    public void The_islands_lie_across_two_blocks_of_ten_degrees_each_way()
    {
        (string Id, SiteRow Row)[] sound = [.. Sites().Where(site => !scenario.IsListed(site.ContributionId, "site", site.Row.SiteId))];
        Assert.Contains(sound, site => site.Row.DecimalLongitude < -30);
        Assert.Contains(sound, site => site.Row.DecimalLongitude > -30);
        Assert.Contains(sound, site => site.Row.DecimalLatitude < -40);
        Assert.Contains(sound, site => site.Row.DecimalLatitude > -40);
    }

    [Fact]
    public void A_site_stays_where_it_was_from_campaign_to_campaign_unless_planted_otherwise()
    {
        IEnumerable<IGrouping<(string ContributorId, string SiteId), (Contribution c, SiteRow row)>> groups =
            scenario.Contributions.SelectMany(c => c.Sites, (c, row) => (c, row))
                .GroupBy(pair => (pair.c.Header.ContributorId, pair.row.SiteId));
        foreach (IGrouping<(string ContributorId, string SiteId), (Contribution c, SiteRow row)> group in groups)
        {
            bool moved = group.Select(pair => (pair.row.DecimalLatitude, pair.row.DecimalLongitude)).Distinct().Count() > 1;
            Assert.Equal(moved, group.Any(pair => IsPlanted(pair.c.Header.ContributionId, pair.row, "site-moved")));
        }
    }

    [Fact]
    public void Gdal_reads_the_true_rate_that_our_reader_reads()
    {
        string? gdal = Environment.GetEnvironmentVariable("PATH")?.Split(Path.PathSeparator)
            .Select(folder => Path.Combine(folder, "gdallocationinfo")).FirstOrDefault(File.Exists);
        Assert.SkipUnless(gdal is not null, "gdallocationinfo (Debian package gdal-bin) is not installed");
        string path = Path.Combine(scenario.Folder, "truth", "decay-rate.tif");
        (string _, SiteRow row) = Sites().First(site => !scenario.IsListed(site.ContributionId, "site", site.Row.SiteId));
        using Process process = Process.Start(new ProcessStartInfo(gdal,
            ["-valonly", "-wgs84", path, row.DecimalLongitude.ToString(CultureInfo.InvariantCulture),
            row.DecimalLatitude.ToString(CultureInfo.InvariantCulture)])
        { RedirectStandardOutput = true })!;
        double theirs = double.Parse(process.StandardOutput.ReadToEnd(), CultureInfo.InvariantCulture);
        using Grid grid = GridFile.Open(path);
        double ours =
            GridSampler.Sample(grid, [new GeoPoint(row.DecimalLongitude, row.DecimalLatitude)], SamplingRule.Nearest, null)[0].Value!.Value;
        Assert.Equal(theirs, ours, 1e-8);
    }

    private IEnumerable<(string ContributionId, SiteRow Row)> Sites() =>
        scenario.Contributions.SelectMany(c => c.Sites, (c, row) => (c.Header.ContributionId, row));

    private bool IsPlanted(string contributionId, SiteRow row, string code) => scenario.Planted.Any(fault =>
        fault.ContributionId == contributionId && fault.RecordType == "site" && fault.RecordId == row.SiteId && fault.Code == code);
}
