using SkiaSharp;

namespace DecayAtlas.Prediction.Pictures;

/// <summary>
/// Colours of a scale, from 0 to 1. Both palettes keep their order in a grey print or for readers with a colour vision deficiency:
/// viridis (van der Walt and Smith 2015, CC0) for amounts, purple to orange (PuOr of ColorBrewer, Brewer 2002, Apache 2.0) for change
/// on either side of a middle. Straight lines between published stops; viridis stays within 2/255 of its full table.
/// </summary>
internal sealed class Palette
{
    private readonly SKColor[] stops;

    private Palette(params uint[] stops) => this.stops = [.. stops.Select(s => new SKColor((byte)(s >> 16), (byte)(s >> 8), (byte)s))];

    public static Palette Viridis { get; } = new(
        0x440154, 0x481568, 0x482677, 0x453781, 0x3F4788, 0x39558C, 0x32648E, 0x2D718E, 0x287D8E, 0x238A8D,
        0x1F968B, 0x20A386, 0x29AF7F, 0x3CBC75, 0x56C667, 0x74D055, 0x94D840, 0xB8DE29, 0xDCE318, 0xFDE725);

    public static Palette PurpleToOrange { get; } = new(
        0x2D004B, 0x542788, 0x8073AC, 0xB2ABD2, 0xD8DAEB, 0xF7F7F7, 0xFEE0B6, 0xFDB863, 0xE08214, 0xB35806, 0x7F3B08);

    /// <summary>The colour at 0 to 1; beyond, the end colours.</summary>
    public SKColor At(double fraction)
    {
        double place = Math.Clamp(fraction, 0, 1) * (stops.Length - 1);
        int below = Math.Min((int)place, stops.Length - 2);
        return Mix(stops[below], stops[below + 1], place - below);
    }

    /// <summary>(1 − share) of one colour and share of another.</summary>
    public static SKColor Mix(SKColor one, SKColor other, double share)
    {
        byte Channel(byte a, byte b) => (byte)Math.Round(a + (b - a) * share);
        return new(Channel(one.Red, other.Red), Channel(one.Green, other.Green), Channel(one.Blue, other.Blue));
    }
}
