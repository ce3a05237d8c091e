using SkiaSharp;

namespace DecayAtlas.Prediction.Pictures;

/// <summary>
/// Viridis (van der Walt and Smith 2015, released under CC0): even steps look even, light and dark survive a grey print, and
/// readers with a colour vision deficiency see the same order. Held as 20 published stops with straight lines between them,
/// which stay within 2/255 of the full table.
/// </summary>
internal static class Palette
{
    private static readonly SKColor[] Stops =
    [
        new(0x44, 0x01, 0x54), new(0x48, 0x15, 0x68), new(0x48, 0x26, 0x77), new(0x45, 0x37, 0x81), new(0x3F, 0x47, 0x88),
        new(0x39, 0x55, 0x8C), new(0x32, 0x64, 0x8E), new(0x2D, 0x71, 0x8E), new(0x28, 0x7D, 0x8E), new(0x23, 0x8A, 0x8D),
        new(0x1F, 0x96, 0x8B), new(0x20, 0xA3, 0x86), new(0x29, 0xAF, 0x7F), new(0x3C, 0xBC, 0x75), new(0x56, 0xC6, 0x67),
        new(0x74, 0xD0, 0x55), new(0x94, 0xD8, 0x40), new(0xB8, 0xDE, 0x29), new(0xDC, 0xE3, 0x18), new(0xFD, 0xE7, 0x25),
    ];

    /// <summary>The colour at 0 (darkest) to 1 (lightest); beyond, the end colours.</summary>
    public static SKColor At(double fraction)
    {
        double place = Math.Clamp(fraction, 0, 1) * (Stops.Length - 1);
        int below = Math.Min((int)place, Stops.Length - 2);
        return Mix(Stops[below], Stops[below + 1], place - below);
    }

    /// <summary>(1 − share) of one colour and share of another.</summary>
    public static SKColor Mix(SKColor one, SKColor other, double share)
    {
        byte Channel(byte a, byte b) => (byte)Math.Round(a + (b - a) * share);
        return new(Channel(one.Red, other.Red), Channel(one.Green, other.Green), Channel(one.Blue, other.Blue));
    }
}
