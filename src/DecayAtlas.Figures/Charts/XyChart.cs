namespace DecayAtlas.Figures.Charts;

/// <summary>A chart of two numeric axes: points, lines, bands and rules in layers, the first at the bottom.</summary>
public sealed record XyChart(string Title, string AltText, Axis X, Axis Y, IReadOnlyList<Layer> Layers) : Chart(Title, AltText)
{
    /// <summary>Both axes have one range and the line of equal values is drawn, for observed against predicted.</summary>
    public bool HasEqualAxes { get; init; }

    internal override IEnumerable<LegendKey> Legend =>
        Layers.Select((layer, i) => (layer, Series: layer.Series ?? i)).Where(l => l.layer.Label is not null)
            .Select(l => new LegendKey(l.layer.Label!, (sheet, x, y) => l.layer.DrawSign(sheet, x, y, l.Series)));

    internal override void DrawBody(MarkSheet sheet, Area area)
    {
        (double From, double To) xs = X.Range(Layers.SelectMany(l => l.Xs)), ys = Y.Range(Layers.SelectMany(l => l.Ys));
        if (HasEqualAxes)
            xs = ys = (Math.Min(xs.From, ys.From), Math.Max(xs.To, ys.To));
        double top = area.Top + 30, bottom = area.Bottom - 44;
        Scale y = new(Y, ys, bottom, top, (int)Math.Clamp((bottom - top) / 25, 2, 8), Number);
        Area inner = new(area.Left + y.TickWidth, top, area.Right, bottom);
        Scale x = new(X, xs, inner.Left, inner.Right, (int)Math.Clamp(inner.Width / 48, 2, 9), Number);
        y.DrawLeft(sheet, inner);
        x.DrawBelow(sheet, bottom, HasEqualAxes ? top : null);
        if (HasEqualAxes)
            sheet.Draw(HouseColours.Soft, Look.Dashed, Outline.Line(inner.Left, bottom, inner.Right, top));
        for (int i = 0; i < Layers.Count; i++)
            Layers[i].Draw(sheet, x, y, inner, Layers[i].Series ?? i);
    }
}
