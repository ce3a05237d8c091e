using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Primitives;

namespace DecayAtlas.Serving.Tests.Features;

public sealed class Filters
{
    [Theory]
    [InlineData("ecosystem", "forest")]
    [InlineData("country_code", "XA")]
    [InlineData("contributor_id", "lantern-hill.farm_2")]
    [InlineData("coordinates_generalised", "true")]
    [InlineData("use", "suspect")]
    public void A_value_that_a_site_can_have_is_taken(string property, string value) =>
        Assert.Equal([(property, value)], Parse((property, value)).Query.Equal);

    [Theory]
    [InlineData("ecosystem", "Forest")]
    [InlineData("ecosystem", "forest' OR '1'='1")]
    [InlineData("ecosystem", "")]
    [InlineData("country_code", "XAX")]
    [InlineData("country_code", "XA\n")]
    [InlineData("contributor_id", "a; DROP TABLE sites")]
    [InlineData("contributor_id", "../../etc")]
    [InlineData("contributor_id", "a\u0000b")]
    [InlineData("coordinates_generalised", "1")]
    [InlineData("use", "all")]
    public void A_value_that_no_site_can_have_is_refused_and_said(string property, string value) =>
        Assert.StartsWith($"{property} is \"", Assert.Throws<QueryFaultException>(() => Parse((property, value))).Message,
            StringComparison.Ordinal);

    [Theory]
    [InlineData("Ecosystem")]
    [InlineData("site_key")] // of burials only
    [InlineData("management_note")]
    [InlineData("offset")]
    [InlineData("")]
    public void A_parameter_that_there_is_not_is_refused_with_those_there_are(string name) =>
        Assert.EndsWith("use.", Assert.Throws<QueryFaultException>(() => Parse((name, "1"))).Message, StringComparison.Ordinal);

    [Theory]
    [InlineData("1", 1)]
    [InlineData("10000", 10_000)]
    [InlineData("10001", 10_000)] // abstract test fc-limit-response: more than the most is no error
    [InlineData("2147483647", 10_000)]
    public void A_limit_is_taken_up_to_the_most(string text, int limit) => Assert.Equal(limit, Parse(("limit", text)).Limit);

    [Theory]
    [InlineData("0")]
    [InlineData("-1")]
    [InlineData("+1")]
    [InlineData("1.5")]
    [InlineData("1e3")]
    [InlineData("ten")]
    [InlineData("")]
    [InlineData("2147483648")]
    [InlineData("99999999999999999999")]
    public void What_is_no_limit_is_refused(string text) =>
        Assert.Contains("expected a whole number from 1 to 10000",
            Assert.Throws<QueryFaultException>(() => Parse(("limit", text))).Message, StringComparison.Ordinal);

    [Fact]
    public void A_parameter_that_is_there_twice_is_refused() =>
        Assert.Contains("2 times",
            Assert.Throws<QueryFaultException>(() =>
                PageRequest.Parse(new QueryCollection(new Dictionary<string, StringValues> { ["limit"] = new(["1", "2"]) }),
                    FeatureCollectionInfo.Sites.Filters)).Message, StringComparison.Ordinal);

    [Fact]
    public void A_request_is_written_the_same_way_in_whatever_order_it_came() =>
        Assert.Equal(
            Parse(("use", "accepted"), ("bbox", "-10.0,35,30,6e1"), ("ecosystem", "forest"), ("limit", "20")).ToString(),
            Parse(("limit", "20"), ("ecosystem", "forest"), ("use", "accepted"), ("bbox", "-10,35,30,60")).ToString());

    private static PageRequest Parse(params (string Name, string Value)[] parameters) =>
        PageRequest.Parse(new QueryCollection(parameters.ToDictionary(p => p.Name, p => new StringValues(p.Value))),
            FeatureCollectionInfo.Sites.Filters);
}
