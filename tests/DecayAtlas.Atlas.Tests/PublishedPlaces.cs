namespace DecayAtlas.Atlas.Tests;

public class PublishedPlaces
{
    [Theory]
    [InlineData(50.04, 10.04, "N50E010")]
    [InlineData(-33.2, -70.5, "S40W080")]
    [InlineData(0, 0, "N00E000")]
    [InlineData(-0.01, -0.01, "S10W010")]
    [InlineData(90, 180, "N80E170")]     // the pole and the antimeridian belong to the last block
    [InlineData(-90, -180, "S90W180")]
    public void A_block_is_named_by_its_south_west_corner(double latitude, double longitude, string block) =>
        Assert.Equal(block, PublishedPlace.Of(latitude, longitude, null, false).Block);

    [Theory]
    [InlineData(90.1, 0)]
    [InlineData(0, -180.1)]
    [InlineData(double.NaN, 0)]
    public void An_impossible_place_is_published_as_missing(double latitude, double longitude)
    {
        PublishedPlace place = PublishedPlace.Of(latitude, longitude, 5, false);
        Assert.Null(place.LatitudeDegrees);
        Assert.Null(place.Block);
        Assert.Equal(5, place.UncertaintyMetres);
        // of a sensitive site not even that is told: beside it nothing was generalised
        Assert.Equal(new PublishedPlace(null, null, null, true), PublishedPlace.Of(latitude, longitude, 5, true));
    }

    [Theory]
    [InlineData(50.04, 10.04, 50.05, 10.05)]
    [InlineData(-33.21, -70.55, -33.25, -70.55)]
    [InlineData(90, 180, 89.95, 179.95)]
    [InlineData(-90, -180, -89.95, -179.95)]
    public void A_sensitive_place_becomes_the_centre_of_its_tenth_of_a_degree(double latitude, double longitude, double publishedLatitude,
        double publishedLongitude)
    {
        PublishedPlace place = PublishedPlace.Of(latitude, longitude, 20, true);
        Assert.Equal((publishedLatitude, publishedLongitude), (place.LatitudeDegrees!.Value, place.LongitudeDegrees!.Value));
        // half the diagonal of 0.1 x 0.1 degree at the equator, 11.132 km x √2 / 2, and the 20 m that were stated
        Assert.Equal(7892, place.UncertaintyMetres);
        Assert.Equal(7872, PublishedPlace.Of(latitude, longitude, null, true).UncertaintyMetres);
    }
}
