using SkiaSharp;

namespace DecayAtlas.Prediction.Tests;

/// <summary>Marks of a map's picture, found again in its pixels.</summary>
public class WhatAPictureShows
{
    private static readonly MapLattice Square = MapLattice.OfBox(new(0, 0, 10, 10), 100, 100);

    [Fact]
    public void A_change_that_is_not_told_apart_is_dotted_and_keeps_its_colour()
    {
        ThinnedMap raster = new(100, 100);
        for (int i = 0; i < 10_000; i++)
            raster.Add(i % 100, i / 100, 0.4, isApplicable: true, isTold: i % 100 < 50);
        RateScale scale = RateScale.OfChange(raster, isOfRatios: true);
        using SKBitmap picture = Decoded(MapPicture.Draw(raster, Square, new("T", "S", "C"), scale, []));
        SKRectI frame = MapLayout.Of(Square).Frame;
        SKColor told = scale.Colour(0.4);

        SKColor[] left = [.. Pixels(picture, frame with { Right = frame.MidX - 4 })],
            right = [.. Pixels(picture, frame with { Left = frame.MidX + 4 })];
        // lines of the graticule cross both halves, and nothing else crosses the told one
        Assert.True(left.Count(p => p == told) > 0.95 * left.Length);
        // dots of 2 by 2 pixels, one in 8 by 4
        Assert.Equal(4.0 / 32, (double)right.Count(p => p.Red < 0.6 * told.Red) / right.Length, 0.02);
        Assert.True(right.Count(p => Math.Abs(p.Red - told.Red) < 40) > 0.8 * right.Length);
    }

    [Fact]
    public void Cells_that_must_not_be_used_set_no_colours()
    {
        ThinnedMap raster = new(100, 1);
        for (int i = 0; i < 100; i++)
            raster.Add(i, 0, i < 80 ? 0.01 + i * 1e-5 : 0.5, isApplicable: i < 80);
        RateScale scale = RateScale.Of(raster);
        // the 2nd and 98th percentile of 0.0100 to 0.0108 by hand, straight between order statistics
        Assert.Equal((0.0100158, 0.0107742), (scale.Low, scale.High), new Near());
        Assert.True(scale.OpenAbove);
    }

    [Fact]
    public void How_unsure_the_map_is_stands_beside_it_in_colours_of_its_own()
    {
        ThinnedMap raster = new(100, 100), widths = new(100, 100, MapInset.MaximumSide);
        for (int i = 0; i < 10_000; i++)
        {
            raster.Add(i % 100, i / 100, 0.01 + i * 1e-7, true);
            widths.Add(i % 100, i / 100, i % 100 < 50 ? 1.5 : 3, true);
        }

        MapInset inset = RateMap.InsetOf(widths, MapQuantity.DecayRate);
        using SKBitmap with = Decoded(Draw(inset)), without = Decoded(Draw(null));
        SKRectI panel = MapLayout.Of(Square).Panel;
        SKColor sure = Ramp.Unsure.At(0), unsure = Ramp.Unsure.At(1);
        SKColor[] drawn = [.. Pixels(with, panel)];
        int sureCells = drawn.Count(p => p == sure), unsureCells = drawn.Count(p => p == unsure);
        Assert.True(sureCells > 10_000, $"{sureCells}");
        Assert.Equal(1, (double)sureCells / unsureCells, 0.05);
        Assert.DoesNotContain(unsure, Pixels(without, panel));

        byte[] Draw(MapInset? beside) =>
            MapPicture.Draw(raster, Square, new("T", "S", "C"), RateScale.Of(raster), [], inset: beside);
    }

    /// <summary>Campaigns stand in the order in which they began.</summary>
    [Fact]
    public void When_it_was_measured_is_said()
    {
        TrainingRow Row(string campaign, DateOnly from, DateOnly to) => new("g/S", campaign, 0, 0, 0, 1, from, to, []);
        TrainingRow[] rows =
        [
            Row("spring", new(2024, 9, 1), new(2024, 12, 2)), Row("autumn", new(2024, 3, 4), new(2024, 6, 2)),
            Row("autumn", new(2024, 3, 1), new(2024, 5, 30)),
        ];
        Assert.Equal("Measured 2024-03-01 to 2024-12-02 in campaigns autumn, spring", MeasuredTimes.Of(rows)!.Sentence());
        Assert.Equal("Measured 2024-09-01 to 2024-12-02 in campaign spring", MeasuredTimes.Of(rows[..1])!.Sentence());
        Assert.Null(MeasuredTimes.Of([]));

        MapOptions options = new("T", [])
        {
            Measured = MeasuredTimes.Of(rows[..1]),
            Conditions = new(new(new(2023, 4, 15), new(2023, 7, 15)), 8),
        };
        Assert.Equal("Measured 2024-09-01 to 2024-12-02 in campaign spring · mapped for bags buried 2023-04-15 to 2023-07-15 "
            + "· at 8 cm depth", options.TimesInWords);
        Assert.Equal("", new MapOptions("T", []).TimesInWords);
    }

    private static SKBitmap Decoded(byte[] png) => SKBitmap.Decode(png);

    private static IEnumerable<SKColor> Pixels(SKBitmap picture, SKRectI part) =>
        Enumerable.Range(part.Top, part.Height)
            .SelectMany(y => Enumerable.Range(part.Left, part.Width).Select(x => picture.GetPixel(x, y)));

    private sealed class Near : IEqualityComparer<(double, double)>
    {
        public bool Equals((double, double) a, (double, double) b) =>
            Math.Abs(a.Item1 - b.Item1) < 1e-9 && Math.Abs(a.Item2 - b.Item2) < 1e-9;

        public int GetHashCode((double, double) pair) => 0;
    }
}
