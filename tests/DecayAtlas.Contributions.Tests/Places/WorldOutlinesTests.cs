namespace DecayAtlas.Contributions.Tests.Places;

public class WorldOutlinesTests
{
    /// <summary>Places of cities to a hundredth of a degree, as any atlas gives them (from memory): all round the Earth, at coasts, across
    /// the date line, and two that lie in a country within another.</summary>
    [Theory]
    [InlineData("KE", -1.29, 36.82)]
    [InlineData("NZ", -41.29, 174.78)]
    [InlineData("FJ", -18.14, 178.44)]
    [InlineData("EC", -0.18, -78.47)]
    [InlineData("IS", 64.15, -21.94)]
    [InlineData("LS", -29.31, 27.48)]
    [InlineData("SM", 43.94, 12.45)]
    [InlineData("RU", 66.32, -179.12)]
    [InlineData("US", 64.84, -147.72)]
    [InlineData("ES", 40.42, -3.70)]
    [InlineData("PT", 38.72, -9.14)]
    public void Places_lie_in_their_countries(string country, double latitude, double longitude)
    {
        CountryOutline outline = WorldOutlines.Shipped.Find(country)!;

        Assert.Equal(0, outline.DistanceMetres(latitude, longitude), 5000.0);
        Assert.DoesNotContain(WorldOutlines.Shipped.Countries,
            other => other.Code is { } code && code != country && other.Contains(latitude, longitude));
    }

    /// <summary>The place furthest from all land, 48°52.6' S 123°23.6' W, is 2,688 km from it (Lukatela 1992, from memory); the rocks that
    /// set this are smaller than what is drawn here, so that the distance may only be larger, by what lies between them and the next
    /// island.</summary>
    [Fact]
    public void The_place_furthest_from_land_is_as_far_as_is_published() =>
        Assert.InRange(WorldOutlines.Shipped.DistanceToLandMetres(-48.8767, -123.3933), 2_650_000, 2_950_000);

    [Fact]
    public void A_wrong_half_of_the_Earth_is_far_from_the_country()
    {
        CountryOutline peru = WorldOutlines.Shipped.Find("pe")!;

        Assert.Equal(0, peru.DistanceMetres(-12.05, -76.94));
        Assert.True(peru.DistanceMetres(12.05, -76.94) > 1_000_000);
        Assert.True(peru.DistanceMetres(-12.05, 76.94) > 10_000_000);
    }

    [Fact]
    public void Codes_that_users_may_take_have_no_outline() => Assert.Null(WorldOutlines.Shipped.Find("ZZ"));
}
