namespace DecayAtlas.Figures.Charts;

public abstract record Layer
{
    /// <summary>The series of what is summed up of others: ink, and no category.</summary>
    public const int Summary = -1;

    public string? Label { get; init; }

    /// <summary>Which series colour and mark, from 0; by default the layer's place. Layers of one thing share one.</summary>
    public int? Series { get; init; }

    /// <summary>Another colour than that of the series, as steps of an ordered quantity have.</summary>
    public Tone? Colour { get; init; }

    internal abstract IEnumerable<double> Xs { get; }

    internal abstract IEnumerable<double> Ys { get; }

    internal abstract void DrawSign(MarkSheet sheet, double x, double y, int series);

    internal abstract void Draw(MarkSheet sheet, Scale x, Scale y, Area area, int series);

    /// <summary>Where its label stands beside it on the chart; a layer that has no such place is named in the legend.</summary>
    internal virtual (double X, double Y)? LabelPlace(Scale x, Scale y, Area area) => null;

    /// <summary>Whether <see cref="LabelPlace"/> is where it is named.</summary>
    internal virtual bool IsNamedBeside => false;

    private protected Tone ToneOf(int series) =>
        Colour ?? (series < 0 ? HouseColours.Ink : HouseColours.Series[series % HouseColours.Series.Count]);
}

/// <summary>A point; intervals are ends, not lengths, and may be missing.</summary>
public readonly record struct ChartPoint(double X, double Y, double? LowerY = null, double? UpperY = null, double? LowerX = null,
    double? UpperX = null);

public sealed record Points(IReadOnlyList<ChartPoint> Values) : Layer
{
    /// <summary>How wide a mark is, where each stands out; by default the more points, the smaller and fainter.</summary>
    public double? Size { get; init; }

    /// <summary>The form of the mark where it is not that of the series, by the series that has it.</summary>
    public int? Form { get; init; }

    internal override IEnumerable<double> Xs => Values.SelectMany(v => new[] { v.X, v.LowerX ?? v.X, v.UpperX ?? v.X });

    internal override IEnumerable<double> Ys => Values.SelectMany(v => new[] { v.Y, v.LowerY ?? v.Y, v.UpperY ?? v.Y });

    internal override void DrawSign(MarkSheet sheet, double x, double y, int series) =>
        sheet.Draw(ToneOf(series), Look.Mark, Outline.Symbol(Form ?? series, x + 9, y, 9));

    internal override void Draw(MarkSheet sheet, Scale x, Scale y, Area area, int series)
    {
        ChartPoint[] shown = [.. Values.Where(v => x.CanShow(v.X) && y.CanShow(v.Y))];
        (Look look, double size) = Size is { } wide ? (Look.Mark, wide) : Look.Crowd(shown.Length * 220_000 / (area.Width * area.Height));
        foreach (ChartPoint p in shown)
        {
            Reach(p.LowerX, p.UpperX, x, (from, to) => Outline.Line(from, y.At(p.Y), to, y.At(p.Y)), p.X);
            Reach(p.LowerY, p.UpperY, y, (from, to) => Outline.Line(x.At(p.X), from, x.At(p.X), to), p.Y);
        }

        foreach (ChartPoint p in shown)
            sheet.Draw(ToneOf(series), look, Outline.Symbol(Form ?? series, x.At(p.X), y.At(p.Y), size));

        void Reach(double? lower, double? upper, Scale scale, Func<double, double, string> line, double value)
        {
            if (lower is not null || upper is not null)
                sheet.Draw(ToneOf(series), Size is null ? Look.Reach : Look.Thick, line(scale.At(End(lower)), scale.At(End(upper))));

            double End(double? end) => end is { } known && scale.CanShow(known) ? known : value;
        }
    }
}

public sealed record Line(IReadOnlyList<(double X, double Y)> Values) : Layer
{
    public bool IsDashed { get; init; }

    internal override IEnumerable<double> Xs => Values.Select(v => v.X);

    internal override IEnumerable<double> Ys => Values.Select(v => v.Y);

    internal override void DrawSign(MarkSheet sheet, double x, double y, int series) =>
        sheet.Draw(ToneOf(series), Look(), Outline.Line(x, y, x + 18, y));

    internal override void Draw(MarkSheet sheet, Scale x, Scale y, Area area, int series)
    {
        (double X, double Y)[] shown = [.. Values.Where(v => x.Holds(v.X) && y.CanShow(v.Y)).Select(v => (x.At(v.X), y.At(v.Y)))];
        if (shown.Length > 1)
            sheet.Draw(ToneOf(series), Look(), Outline.Through(shown));
    }

    internal override bool IsNamedBeside => true;

    /// <summary>Beside its last point.</summary>
    internal override (double X, double Y)? LabelPlace(Scale x, Scale y, Area area) =>
        Values.Where(v => x.Holds(v.X) && y.CanShow(v.Y)).Select(v => ((double, double)?)(x.At(v.X), y.At(v.Y))).LastOrDefault();

    private Look Look() => IsDashed ? Drawing.Look.DashedCurve : Drawing.Look.Curve;
}

/// <summary>A band between two lines, for an interval of a curve.</summary>
public sealed record Band(IReadOnlyList<(double X, double Lower, double Upper)> Values) : Layer
{
    internal override IEnumerable<double> Xs => Values.Select(v => v.X);

    internal override IEnumerable<double> Ys => Values.SelectMany(v => new[] { v.Lower, v.Upper });

    internal override void DrawSign(MarkSheet sheet, double x, double y, int series) =>
        sheet.Draw(ToneOf(series), Look.Wide, Outline.Box(x, y - 5, 18, 10));

    internal override void Draw(MarkSheet sheet, Scale x, Scale y, Area area, int series)
    {
        (double X, double Lower, double Upper)[] shown = [.. Values.Where(v => x.Holds(v.X) && y.CanShow(v.Lower) && y.CanShow(v.Upper))];
        if (shown.Length > 1)
        {
            IEnumerable<(double, double)> there = shown.Select(v => (x.At(v.X), y.At(v.Lower))),
                back = shown.Reverse().Select(v => (x.At(v.X), y.At(v.Upper)));
            sheet.Draw(ToneOf(series), Look.Wide, Outline.Through(there.Concat(back)) + "z");
        }
    }
}

/// <summary>A straight reference line over the whole chart at a value of one axis.</summary>
public sealed record Rule(double At, bool IsVertical = false) : Layer
{
    public bool IsDashed { get; init; }

    internal override IEnumerable<double> Xs => IsVertical ? [At] : [];

    internal override IEnumerable<double> Ys => IsVertical ? [] : [At];

    internal override void DrawSign(MarkSheet sheet, double x, double y, int series) =>
        sheet.Draw(HouseColours.Soft, Look(), Outline.Line(x, y, x + 18, y));

    internal override void Draw(MarkSheet sheet, Scale x, Scale y, Area area, int series)
    {
        string outline = IsVertical ? Outline.Line(x.At(At), area.Top, x.At(At), area.Bottom)
            : Outline.Line(area.Left, y.At(At), area.Right, y.At(At));
        if ((IsVertical ? x : y).Holds(At))
            sheet.Draw(HouseColours.Soft, Look(), outline);
    }

    internal override bool IsNamedBeside => true;

    /// <summary>Beside its right or its upper end.</summary>
    internal override (double X, double Y)? LabelPlace(Scale x, Scale y, Area area) =>
        !(IsVertical ? x : y).Holds(At) ? null : IsVertical ? (x.At(At), area.Top + 8) : (area.Right, y.At(At));

    private Look Look() => IsDashed ? Drawing.Look.Dashed : Drawing.Look.Thin;
}

/// <summary>Ticks at the foot of a chart: where values lie of which only the place is told.</summary>
public sealed record Rug(IReadOnlyList<double> Values) : Layer
{
    /// <summary>More are thinned evenly by rank: they lie close where the values do.</summary>
    private const int Most = 60;

    internal override IEnumerable<double> Xs => Values;

    internal override IEnumerable<double> Ys => [];

    internal override void DrawSign(MarkSheet sheet, double x, double y, int series)
    {
        for (int i = 0; i < 3; i++)
            sheet.Draw(ToneOf(series), Look.Reach, Outline.Line(x + 4 + 5 * i, y - 4, x + 4 + 5 * i, y + 4));
    }

    internal override void Draw(MarkSheet sheet, Scale x, Scale y, Area area, int series)
    {
        double[] sorted = [.. Values.Where(x.Holds).Distinct().Order()];
        int shown = Math.Min(Most, sorted.Length);
        for (int i = 0; i < shown; i++)
        {
            double at = x.At(sorted[(int)((long)i * (sorted.Length - 1) / Math.Max(1, shown - 1))]);
            sheet.Draw(ToneOf(series), Look.Reach, Outline.Line(at, area.Bottom - 7, at, area.Bottom));
        }
    }
}
