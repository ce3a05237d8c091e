using System.Globalization;
using System.Text.Json.Nodes;

namespace DecayAtlas.EndToEnd;

/// <summary>
/// Position queries of OGC API - Environmental Data Retrieval 1.1 over the demo's atlas, by the abstract tests of its annex A for core,
/// collections, position and CoverageJSON (OGC 19-086r6, from memory); numbers are held against those of <c>/predict</c>, which are held
/// against the command, and of covariates against GDAL.
/// </summary>
public sealed class PositionsByTheStandard(ServedDemo served) : IClassFixture<ServedDemo>
{
    private string Root => served.Address + "/edr";

    [Fact]
    public async Task The_landing_page_leads_to_conformance_collections_and_the_description_of_the_interface()
    {
        JsonNode landing = await served.GetAsync(Root + "/", "application/json");
        foreach (string relation in new[] { "self", "conformance", "data", "service-desc" })
        {
            string address = (string)landing["links"]!.AsArray().Single(l => (string)l!["rel"]! == relation)!["href"]!;
            Assert.Equal(200, (await served.AskAsync(address)).Status);
        }

        Assert.Contains("http://www.opengis.net/spec/ogcapi-edr-1/1.1/conf/core",
            (await served.GetAsync(Root + "/conformance", "application/json"))["conformsTo"]!.AsArray().Select(c => (string)c!));
    }

    [Fact]
    public async Task Every_collection_says_where_how_and_with_which_parameters_it_is_asked()
    {
        JsonNode all = await served.GetAsync(Root + "/collections", "application/json");
        Assert.Equal(["predictions-k", "predictions-s", "covariates"], all["collections"]!.AsArray().Select(c => (string)c!["id"]!));
        foreach (JsonNode? one in all["collections"]!.AsArray())
        {
            JsonNode again = await served.GetAsync($"{Root}/collections/{(string)one!["id"]!}", "application/json");
            Assert.True(JsonNode.DeepEquals(one, again));
            Assert.Equal(4, one["extent"]!["spatial"]!["bbox"]![0]!.AsArray().Count);
            JsonNode query = one["data_queries"]!["position"]!["link"]!;
            Assert.Equal(("position", "CoverageJSON"),
                ((string)query["variables"]!["query_type"]!, (string)query["variables"]!["default_output_format"]!));
            Assert.Equal(200, (await served.AskAsync((string)query["href"]! + "?coords=POINT(-30.5 -40.25)")).Status);
            Assert.All(one["parameter_names"]!.AsObject(), p => Assert.Equal("Parameter", (string)p.Value!["type"]!));
        }
    }

    [Theory]
    [InlineData("predictions-k", "k_per_day", "k_lower_per_day", "k_upper_per_day", "dissimilarity", "half_life_days")]
    [InlineData("predictions-s", "s", "s_lower", "s_upper", "s_measured_lower", "s_measured_upper")]
    public async Task A_coverage_has_the_numbers_that_are_predicted(string collection, params string[] names)
    {
        JsonNode properties = (await served.GetAsync(
            $"{served.Address}/predict?lon=-30.5&lat=-40.25&buried_on=2024-04-01&retrieved_on=2024-07-01", "application/geo+json"))["properties"]!;
        JsonNode predicted = collection == "predictions-s" ? properties["stabilisation"]! : properties;
        string asked = $"{Root}/collections/{collection}/position?coords=POINT(-30.5 -40.25)&datetime=2024-04-01/2024-07-01"
            + $"&parameter-name={string.Join(',', names)}";
        JsonNode coverage = await served.GetAsync(asked, "application/prs.coverage+json");
        Assert.Equal(("Coverage", "Point"), ((string)coverage["type"]!, (string)coverage["domain"]!["domainType"]!));
        Assert.Equal((-30.5, -40.25), ((double)coverage["domain"]!["axes"]!["x"]!["values"]![0]!,
            (double)coverage["domain"]!["axes"]!["y"]!["values"]![0]!));
        Assert.Equal(names.Order(StringComparer.Ordinal), coverage["ranges"]!.AsObject().Select(r => r.Key).Order(StringComparer.Ordinal));
        JsonNode feature = (await served.GetAsync(asked + "&f=GeoJSON", "application/geo+json"))["features"]![0]!;
        foreach (string name in names)
        {
            double value = (double)coverage["ranges"]![name]!["values"]![0]!;
            Assert.Equal(predicted[name]!.GetValue<double>(), value, 1e-6 * Math.Abs(value));
            Assert.Equal(value, (double)feature["properties"]![name]!);
            Assert.NotNull(coverage["parameters"]![name]!["observedProperty"]);
        }
    }

    [Fact]
    public async Task Covariates_are_those_that_GDAL_finds_in_the_grids()
    {
        Assert.SkipUnless(Command.Has("gdallocationinfo"), "gdallocationinfo is not installed (Debian package gdal-bin)");
        // in the middle of a cell of 0.0125 degrees
        JsonNode coverage = await served.GetAsync(Root + "/collections/covariates/position?coords=POINT(-30.48125 -40.28125)"
            + "&parameter-name=clay,elevation", "application/prs.coverage+json");
        CommandResult found = Command.Run(served.Workspace.Folder, "gdallocationinfo", "-valonly", "-wgs84",
            served.Workspace.PathOf("scenario/grids/elevation.tif"), "-30.48125", "-40.28125");
        Assert.Equal(double.Parse(found.Output, CultureInfo.InvariantCulture), (double)coverage["ranges"]!["elevation"]!["values"]![0]!, 1e-3);
        Assert.Equal("m", (string)coverage["parameters"]!["elevation"]!["unit"]!["symbol"]!["value"]!);
    }

    [Theory]
    [InlineData("", "coords is missing")]
    [InlineData("coords=POINT(200 10)", "coords is")]
    [InlineData("coords=POLYGON((0 0,1 0,1 1,0 0))", "coords is")]
    [InlineData("coords=POINT(1", "coords is")]
    [InlineData("coords=POINT(1 1)&crs=EPSG:3857", "crs is")]
    [InlineData("coords=POINT(1 1)&f=PNG", "CoverageJSON or GeoJSON")]
    [InlineData("coords=POINT(1 1)&parameter-name=heat", "parameter-name is")]
    [InlineData("coords=POINT(1 1)&datetime=2024", "datetime is")]
    [InlineData("coords=POINT(1 1)&z=5", "no parameter")]
    [InlineData("coords=POINT(1 1)&coords=POINT(2 2)", "2 times")]
    public async Task What_cannot_be_answered_is_one_sentence_with_status_400(string query, string says)
    {
        Answer answer = await served.AskAsync($"{Root}/collections/predictions-k/position?{query}");
        Assert.Equal(400, answer.Status);
        Assert.Contains(says, answer.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task At_sea_nothing_is_known_and_null_says_so()
    {
        JsonNode coverage = await served.GetAsync(Root + "/collections/predictions-k/position?coords=POINT(10 60)",
            "application/prs.coverage+json");
        Assert.Null(coverage["ranges"]!["k_per_day"]!["values"]![0]);
    }

    [Fact]
    public async Task A_collection_that_is_none_is_not_found() =>
        Assert.Equal(404, (await served.AskAsync(Root + "/collections/weather")).Status);
}
