namespace DecayAtlas.Serving.Tests.Features;

/// <summary>The parameter bbox, as requirements fc-bbox-definition and fc-bbox-response of OGC 17-069r4 lay it down.</summary>
public sealed class BoundingBoxes
{
    [Theory]
    [InlineData("160.6,-55.95,-170,-25.89", 175, -40, true)] // the example of 7.15.3: New Zealand's waters, over the 180th meridian
    [InlineData("160.6,-55.95,-170,-25.89", -175, -40, true)]
    [InlineData("160.6,-55.95,-170,-25.89", 0, -40, false)]
    [InlineData("-10,35,30,60", 30, 60, true)] // edges belong to the box
    [InlineData("-10,35,30,60", 30.0001, 60, false)]
    [InlineData("-10,35,-100,30,60,100", 0, 50, true)] // six numbers: heights at the third and sixth place
    [InlineData("-10,35,-100,30,60,100", 0, 70, false)]
    [InlineData("-180,-90,180,90", 180, -90, true)]
    public void A_place_is_in_a_box_or_not(string text, double longitude, double latitude, bool isIn) =>
        Assert.Equal(isIn, QueryBox.Parse(text).Contains(longitude, latitude));

    [Theory]
    [InlineData("")]
    [InlineData("1,2,3")]
    [InlineData("1,2,3,4,5")]
    [InlineData("1,2,3,4,5,6,7")]
    [InlineData("a,b,c,d")]
    [InlineData("1,2,3,NaN")]
    [InlineData("1,2,3,Infinity")]
    [InlineData("1,2,3,1e999")]
    [InlineData("-181,0,0,10")]
    [InlineData("0,0,10,90.01")]
    [InlineData("0,20,10,10")]
    [InlineData("0,0,5,10,10,1")]
    [InlineData("1;2;3;4")]
    public void What_is_no_box_on_the_Earth_is_refused_with_what_was_expected(string text) =>
        Assert.Contains("expected west,south,east,north in degrees",
            Assert.Throws<QueryFaultException>(() => QueryBox.Parse(text)).Message, StringComparison.Ordinal);
}
