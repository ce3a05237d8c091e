namespace DecayAtlas.Figures.Drawing;

internal abstract record Mark(Tone Tone);

/// <summary>A shape by its outline, as SVG writes paths.</summary>
internal sealed record Shape(Tone Tone, Look Look, string Outline) : Mark(Tone);

/// <summary>A line of text on its base line; letters that stand for quantities stand between asterisks where it has such.</summary>
internal sealed record Words(Tone Tone, string Text, double X, double Y, SKTextAlign Align, float Size, bool IsBold, bool HasQuantities)
    : Mark(Tone);

/// <summary>What charts draw on, in CSS pixels from the upper left.</summary>
internal sealed class MarkSheet
{
    public const float TextSize = 12;

    private readonly List<Mark> _marks = [];

    public IReadOnlyList<Mark> Marks => _marks;

    public void Draw(Tone tone, Look look, string outline) => _marks.Add(new Shape(tone, look, outline));

    public void Write(Tone tone, string text, double x, double y, SKTextAlign align = SKTextAlign.Left, float size = TextSize,
        bool isBold = false, bool hasQuantities = false) =>
        _marks.Add(new Words(tone, text, x, y, align, size, isBold, hasQuantities));
}
