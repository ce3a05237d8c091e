namespace DecayAtlas.Figures.Charts;

/// <summary>A chart of two numeric axes: points, lines, bands and rules in layers, the first at the bottom. Lines are named at their ends,
/// all else in the legend.</summary>
public sealed record XyChart(string Title, string AltText, Axis X, Axis Y, IReadOnlyList<Layer> Layers) : Chart(Title, AltText)
{
    private const float LineHeight = MarkSheet.TextSize + 2;

    /// <summary>The widest that names beside lines are, as a share of the chart.</summary>
    private const double WidestName = 0.24;

    /// <summary>Both axes have one range and the line of equal values is drawn, for observed against predicted.</summary>
    public bool HasEqualAxes { get; init; }

    /// <summary>Room beside the upright axis, 0 where a neighbour has its numbers.</summary>
    private double? RoomOfNumbers { get; init; }

    private bool HasNumbersBelow { get; init; } = true;

    internal override IEnumerable<LegendKey> Legend =>
        Layers.Select((layer, i) => (layer, Series: layer.Series ?? i)).Where(l => l.layer.Label is not null && !l.layer.IsNamedBeside)
            .Select(l => new LegendKey(l.layer.Label!, (sheet, x, y) => l.layer.DrawSign(sheet, x, y, l.Series)));

    internal override Chart Inner(double? roomOfNumbers, bool hasNumbersBelow) =>
        this with { RoomOfNumbers = roomOfNumbers, HasNumbersBelow = hasNumbersBelow };

    internal override void DrawBody(MarkSheet sheet, Area area)
    {
        (double From, double To) xs = X.Range(Layers.SelectMany(l => l.Xs)), ys = Y.Range(Layers.SelectMany(l => l.Ys));
        if (HasEqualAxes)
            xs = ys = (Math.Min(xs.From, ys.From), Math.Max(xs.To, ys.To));
        double top = area.Top + 30, bottom = area.Bottom - 44;
        int mostTicks = (int)Math.Clamp((bottom - top) / 25, 2, 8);
        Scale y = new(Y, HasEqualAxes ? ys : Scale.ToNextMark(Y, ys, mostTicks), bottom, top, mostTicks, Number);
        (Layer Layer, IReadOnlyList<string> Lines)[] names = [.. Layers.Where(l => l is { Label: not null, IsNamedBeside: true })
            .Select(l => (l, Lettering.Wrap(l.Label!, (float)(WidestName * area.Width), MarkSheet.TextSize)))];
        double beside = names.Where(n => n.Layer is not Rule { IsVertical: true }).SelectMany(n => n.Lines)
            .Select(line => Lettering.Width(line, MarkSheet.TextSize) + 8).DefaultIfEmpty(0).Max();
        Area inner = new(area.Left + (RoomOfNumbers ?? y.TickWidth), top, area.Right - beside, bottom);
        Scale x = new(X, xs, inner.Left, inner.Right, (int)Math.Clamp(inner.Width / 48, 2, 9), Number);
        y.DrawLeft(sheet, inner, RoomOfNumbers);
        x.DrawBelow(sheet, bottom, HasEqualAxes ? top : null, HasNumbersBelow);
        if (HasEqualAxes)
            sheet.Draw(HouseColours.Soft, Look.Dashed, Outline.Line(inner.Left, bottom, inner.Right, top));
        for (int i = 0; i < Layers.Count; i++)
            Layers[i].Draw(sheet, x, y, inner, Layers[i].Series ?? i);
        Name(sheet, names, x, y, inner);
    }

    /// <summary>Writes names at the ends of lines, moved apart where they would lie over each other.</summary>
    private static void Name(MarkSheet sheet, (Layer Layer, IReadOnlyList<string> Lines)[] names, Scale x, Scale y, Area area)
    {
        double free = area.Top;
        foreach ((Layer layer, IReadOnlyList<string> lines, (double left, double middle)) in names
            .Select(n => (n.Layer, n.Lines, Place: n.Layer.LabelPlace(x, y, area))).Where(n => n.Place is not null)
            .Select(n => (n.Layer, n.Lines, n.Place!.Value)).OrderBy(n => n.Value.Y))
        {
            bool isUpright = layer is Rule { IsVertical: true };
            double first = isUpright ? middle : Math.Max(free, middle - lines.Count * LineHeight / 2);
            for (int i = 0; i < lines.Count; i++)
                sheet.Write(HouseColours.Ink, lines[i], left + 6, first + (i + 0.8) * LineHeight);
            free = isUpright ? free : first + lines.Count * LineHeight + 4;
        }
    }
}
