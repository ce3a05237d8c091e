using SkiaSharp;

namespace DecayAtlas.Prediction.Pictures;

/// <summary>Colours of everything that is not data.</summary>
internal static class Ink
{
    public static readonly SKColor Paper = SKColors.White, Text = new(0x1F, 0x26, 0x2D), Quiet = new(0x5B, 0x66, 0x70),
        Line = new(0x8A, 0x94, 0x9C), NoData = new(0xE6, 0xEC, 0xF1), Shore = new(0x6E, 0x7C, 0x88), Muted = new(0xF4, 0xF4, 0xF2),
        Hatch = new(0x4A, 0x4F, 0x55), Caution = new(0x8A, 0x3B, 0x12);

    /// <summary>Pixels from one hatch line to the next, measured along x.</summary>
    public const int HatchStep = 8;

    /// <summary>Pixels from one row of dots to the next, and from dot to dot within one, whose rows stand between each other.</summary>
    private const int StippleStep = 4;

    public static SKPaint Stroke(SKColor colour, float width) =>
        new() { Color = colour, StrokeWidth = width, IsStroke = true, IsAntialias = true };

    public static SKPaint Fill(SKColor colour) => new() { Color = colour, IsAntialias = true };

    /// <summary>Colour of a place outside the area of applicability: its colour half faded, under diagonal lines.</summary>
    public static SKColor Outside(SKColor rate, int x, int y)
    {
        SKColor faded = Ramp.Mix(rate, Muted, 0.5);
        return (x + y) % HatchStep == 0 ? Ramp.Mix(faded, Hatch, 0.85) : faded;
    }

    /// <summary>Colour of a change that is not told apart from none: itself, a little faded, under dots.</summary>
    public static SKColor Untold(SKColor change, int x, int y)
    {
        bool isDot = y % StippleStep < 2 && (x + y / StippleStep % 2 * StippleStep) % (2 * StippleStep) < 2;
        return isDot ? Ramp.Mix(change, Text, 0.75) : Ramp.Mix(change, Muted, 0.25);
    }
}
