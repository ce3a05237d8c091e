using System.Globalization;
using SkiaSharp;

namespace DecayAtlas.Prediction.Tests;

public class PictureTests
{
    [Theory]
    // Every tenth of viridis as matplotlib publishes it (_viridis_data, CC0), in 0..1; the palette here is built from other stops.
    [InlineData(0.0, 0.267004, 0.004874, 0.329415)]
    [InlineData(0.1, 0.282623, 0.140926, 0.457517)]
    [InlineData(0.2, 0.253935, 0.265254, 0.529983)]
    [InlineData(0.3, 0.206756, 0.371758, 0.553117)]
    [InlineData(0.4, 0.163625, 0.471133, 0.558148)]
    [InlineData(0.5, 0.127568, 0.566949, 0.550556)]
    [InlineData(0.6, 0.134692, 0.658636, 0.517649)]
    [InlineData(0.7, 0.266941, 0.748751, 0.440573)]
    [InlineData(0.8, 0.477504, 0.821444, 0.318195)]
    [InlineData(0.9, 0.741388, 0.873449, 0.149561)]
    [InlineData(1.0, 0.993248, 0.906157, 0.143936)]
    public void Palette_equals_published_viridis(double at, double red, double green, double blue)
    {
        SKColor colour = Ramp.Rates.At(at);
        Assert.Equal(red * 255, colour.Red, 2.5);
        Assert.Equal(green * 255, colour.Green, 2.5);
        Assert.Equal(blue * 255, colour.Blue, 2.5);
    }

    [Fact]
    public void Amounts_grow_lighter_all_the_way_and_what_is_unsure_darker()
    {
        // Relative luminance after Rec. 709: a grey print keeps the order, and so does every colour vision.
        double Luminance(Ramp ramp, double at)
        {
            double Linear(byte v) => Math.Pow(v / 255.0, 2.2);
            SKColor c = ramp.At(at);
            return 0.2126 * Linear(c.Red) + 0.7152 * Linear(c.Green) + 0.0722 * Linear(c.Blue);
        }
        for (int i = 1; i <= 50; i++)
        {
            Assert.True(Luminance(Ramp.Rates, i / 50.0) > Luminance(Ramp.Rates, (i - 1) / 50.0));
            Assert.True(Luminance(Ramp.Unsure, i / 50.0) < Luminance(Ramp.Unsure, (i - 1) / 50.0));
        }
    }

    [Theory]
    // Length of a degree on WGS 84, km: the table of Wikipedia, "Latitude" and "Longitude" (from memory).
    [InlineData(0, 111.320, 110.574)]
    [InlineData(15, 107.550, 110.649)]
    [InlineData(30, 96.486, 110.852)]
    [InlineData(45, 78.847, 111.132)]
    [InlineData(60, 55.800, 111.412)]
    [InlineData(75, 28.902, 111.618)]
    public void A_degree_is_as_long_as_published(double latitude, double longitudeKm, double latitudeKm)
    {
        Assert.Equal(longitudeKm, GroundDistance.MetresPerDegreeLongitude(latitude) / 1000, 0.0006);
        // The table's degree of latitude is centred on the latitude, ours is its derivative there: they agree to a metre.
        Assert.Equal(latitudeKm, GroundDistance.MetresPerDegreeLatitude(latitude) / 1000, 0.0011);
    }

    [Fact]
    public void The_scale_bar_is_true_at_the_middle_latitude()
    {
        // One degree of longitude at 60° N is 55.800 km (table above); the frame shows 4 of them.
        MapLayout layout = MapLayout.Of(MapLattice.OfBox(new(10, 59, 14, 61), 40, 20));
        (double length, float pixels) = Legend.ScaleBar(layout, 190);
        Assert.Equal(4 * 55_800.0 / layout.Frame.Width * pixels, length, length * 1e-4);
        Assert.Contains(length, new[] { 20_000.0, 50_000 });
        // And shapes are right there: a degree of latitude is 111.412 km.
        Assert.Equal(2 * 111.412 / (4 * 55.8), (double)layout.Frame.Height / layout.Frame.Width, 0.002);
    }

    [Fact]
    public void Ticks_are_round_and_inside()
    {
        Assert.Equal(["0.008", "0.010", "0.012", "0.014", "0.016"], Labels(RoundNumbers.Between(0.0073, 0.0171, 6)));
        Assert.Equal([-5, 0, 5, 10], RoundNumbers.Degrees(-7.2, 12, 6));
        Assert.Equal(500, RoundNumbers.RoundBelow(999));
        Assert.Equal(0.2, RoundNumbers.RoundBelow(0.4), 12);
        Assert.Equal(["3"], Labels([3]).Select(l => l[..1]));
    }

    private static IEnumerable<string> Labels(IReadOnlyList<double> ticks) =>
        ticks.Select(t => t.ToString(RoundNumbers.Format(ticks), CultureInfo.InvariantCulture));

    [Fact]
    public void Hemispheres_and_the_zero_lines_are_labelled_as_atlases_do()
    {
        Assert.Equal("12.5° W", Graticule.Label(-12.5, 'E', 'W', 1));
        Assert.Equal("0°", Graticule.Label(0, 'E', 'W', 0));
        Assert.Equal("180°", Graticule.Label(-180, 'E', 'W', 0));
        Assert.Equal("40° S", Graticule.Label(-40, 'N', 'S', 0));
    }

    [Theory]
    [InlineData(0, 0, 16, 3)]
    [InlineData(0, -30, 2, 30)]
    [InlineData(-180, -90, 180, 90)]
    [InlineData(5, 5, 5.001, 5.0005)]
    public void Any_shape_of_region_gives_a_picture_of_the_same_bytes_twice(double west, double south, double east, double north)
    {
        ThinnedMap raster = new(30, 20);
        for (int i = 0; i < 600; i++)
        {
            if (i % 7 != 0)
                raster.Add(i % 30, i / 30, 0.01 + i * 1e-5, i % 5 != 0);
        }

        byte[] Draw() =>
            MapPicture.Draw(raster, MapLattice.OfBox(new(west, south, east, north), 30, 20),
                new("A title", "A subtitle", "A caution"), RateScale.Of(raster) with { HasHalfLife = true },
                [new GeoPoint(west + (east - west) / 2, (south + north) / 2)]);
        byte[] png = Draw();
        Assert.Equal(png, Draw());
        using SKBitmap picture = SKBitmap.Decode(png);
        MapLayout layout = MapLayout.Of(MapLattice.OfBox(new(west, south, east, north), 30, 20));
        Assert.Equal((layout.Width, layout.Height), (picture.Width, picture.Height));
        Assert.InRange(picture.Width, 400, 1800);
        Assert.InRange(picture.Height, 300, 1500);
        // The panel and the footer lie inside the paper.
        Assert.True(layout.Panel.Right <= picture.Width && layout.Panel.Bottom <= picture.Height);
    }

    [Fact]
    public void A_cell_is_drawn_in_its_colour_at_its_place()
    {
        // 4 x 2 cells over 4 x 2 degrees at the equator: the frame is divided like the grid. Cell (2, 1) is missing, (3, 0) outside.
        ThinnedMap raster = new(4, 2);
        double[] rates = [0.01, 0.02, 0.03, 0.04, 0.05, 0.06, double.NaN, 0.08];
        for (int i = 0; i < 8; i++)
        {
            if (!double.IsNaN(rates[i]))
                raster.Add(i % 4, i / 4, rates[i], i != 3);
        }

        BoundingBox extent = new(0, -1, 4, 1);
        using SKBitmap picture = SKBitmap.Decode(MapPicture.Draw(raster, MapLattice.OfBox(extent, 4, 2), new("T", "S", "C"),
            RateScale.Of(raster), []));
        MapLayout layout = MapLayout.Of(MapLattice.OfBox(extent, 4, 2));
        RateScale scale = RateScale.Of(raster);
        SKColor Pixel(double longitude, double latitude) =>
            picture.GetPixel((int)layout.At(new(longitude, latitude))!.Value.X, (int)layout.At(new(longitude, latitude))!.Value.Y);
        Assert.Equal(scale.Colour(0.01), Pixel(0.3, 0.3));
        Assert.Equal(scale.Colour(0.06), Pixel(1.3, -0.7));
        Assert.Equal(Ink.NoData, Pixel(2.3, -0.7));
        List<SKColor> outside = Enumerable.Range(0, Ink.HatchStep)
            .Select(i => picture.GetPixel((int)layout.At(new(3.3, 0.3))!.Value.X + i, (int)layout.At(new(3.3, 0.3))!.Value.Y)).ToList();
        Assert.Equal(2, outside.Distinct().Count());
        Assert.DoesNotContain(scale.Colour(0.04), outside);
    }

    [Fact]
    public void A_map_without_any_prediction_is_still_a_map() =>
        Assert.NotEmpty(MapPicture.Draw(new ThinnedMap(3, 3), MapLattice.OfBox(new(0, 0, 1, 1), 3, 3), new("T", "S", "C"),
            RateScale.Of(new ThinnedMap(3, 3)), []));

    [Fact]
    public void A_large_map_is_thinned_to_means()
    {
        ThinnedMap raster = new(2400, 600);
        Assert.Equal((2, 1200, 300), (raster.CellsPerPixel, raster.Columns, raster.Rows));
        raster.Add(0, 0, 1, true);
        raster.Add(1, 1, 3, false);
        Assert.Equal(2, raster.RateAt(0, 0));
        Assert.True(raster.IsOutsideAt(0, 0));
        Assert.True(double.IsNaN(raster.RateAt(1, 0)));
    }

    [Fact]
    public void The_embedded_font_has_every_sign_the_picture_uses()
    {
        foreach (string name in new[] { "Inter-Regular.otf", "Inter-SemiBold.otf" })
        {
            using Stream? stream = typeof(Lettering).Assembly.GetManifestResourceStream(name);
            using SKTypeface face = SKTypeface.FromStream(stream);
            Assert.All("AZaz09°·⁻¹−–…×±ÄÖÜßéøłş", c => Assert.True(face.ContainsGlyph(c), $"{name} lacks {c}"));
        }
    }
}
