using SkiaSharp;

namespace DecayAtlas.Prediction.Joint;

/// <summary>The legend of two quantities: fast above slow, little left beside much left, each in full and pale.</summary>
internal sealed class JointKey(JointCuts cuts) : IMapKey
{
    public SKColor Sample => JointCells.ColourOf(JointClass.All[0], true);

    public float DrawUpright(SKCanvas canvas, float x, float top)
    {
        const int side = 84;
        DrawSquare(canvas, x, top, side, 15);
        return DrawWords(canvas, x, top + 2 * side + 48, 14) + 4;
    }

    public float DrawLying(SKCanvas canvas, float x, float top)
    {
        const int side = 30;
        DrawSquare(canvas, x, top, side, 12);
        DrawWords(canvas, x + 2 * side + 78, top + 8, 13);
        return x + 2 * side + 240;
    }

    private static void DrawSquare(SKCanvas canvas, float x, float top, int side, int size)
    {
        foreach (JointClass one in JointClass.All)
        {
            float left = x + (one.IsMuchLeft ? side : 0), up = top + (one.IsFast ? 0 : side);
            using SKPaint full = new() { Color = JointCells.ColourOf(one, true), IsAntialias = false };
            using SKPaint pale = new() { Color = JointCells.ColourOf(one, false), IsAntialias = false };
            canvas.DrawRect(left, up, side, side, full);
            canvas.DrawRect(left + side * 2 / 3, up + side * 2 / 3, side - side * 2 / 3, side - side * 2 / 3, pale);
        }

        using SKPaint line = Ink.Stroke(Ink.Text, 1);
        canvas.DrawRect(x, top, 2 * side, 2 * side, line);
        canvas.DrawLine(x + side, top, x + side, top + 2 * side, line);
        canvas.DrawLine(x, top + side, x + 2 * side, top + side, line);
        Lettering.Draw(canvas, "fast", x + 2 * side + 8, top + side / 2f + 5, size, Ink.Text);
        Lettering.Draw(canvas, "slow", x + 2 * side + 8, top + side * 1.5f + 5, size, Ink.Text);
        float below = top + 2 * side + size + 3;
        Lettering.Draw(canvas, side > 50 ? "little left" : "little", x + side / 2f, below, size, Ink.Text, SKTextAlign.Center);
        Lettering.Draw(canvas, "much left", x + side * 1.5f, below, size, Ink.Text, side > 50 ? SKTextAlign.Center : SKTextAlign.Left);
    }

    /// <summary>Gives their lower edge.</summary>
    private float DrawWords(SKCanvas canvas, float x, float y, int size)
    {
        string[] lines =
        [
            Invariant($"fast: k from {cuts.RatePerDay:0.0000} per day"), Invariant($"(half-life up to {cuts.HalfLifeDays:0} days)"),
            Invariant($"much left: S from {cuts.Stabilisation:0.000}"), "pale corner: the interval of", "k or of S holds the cut",
        ];
        foreach (string line in lines)
        {
            Lettering.Draw(canvas, line, x, y, size, Ink.Text);
            y += size + 4;
        }

        return y;
    }
}
