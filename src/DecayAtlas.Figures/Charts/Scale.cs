namespace DecayAtlas.Figures.Charts;

public delegate string NumberWriter(double value, string format);

/// <summary>An axis on a sheet: from values to places, with round marks.</summary>
internal sealed class Scale
{
    private readonly Axis _axis;
    private readonly (double From, double To) _range;
    private readonly double _from, _to;

    /// <param name="range">What is shown, in places of the axis.</param>
    /// <param name="from">Where on the sheet it begins.</param>
    public Scale(Axis axis, (double From, double To) range, double from, double to, int mostTicks, NumberWriter number)
    {
        (_axis, _range, _from, _to) = (axis, range, from, to);
        IReadOnlyList<double> ticks = axis.IsLogarithmic
            ? RoundNumbers.Logarithmic(Math.Pow(10, range.From), Math.Pow(10, range.To), mostTicks)
            : RoundNumbers.Between(range.From, range.To, mostTicks);
        string format = RoundNumbers.Format(ticks);
        Func<double, string> written = axis.Mark
            ?? (t => number(t, !axis.IsLogarithmic ? format : t is >= 1e-5 and < 1e6 ? "0.########" : "0.#e0"));
        Ticks = [.. ticks.Select(t => (t, written(t)))];
    }

    /// <summary>The range up to the next round mark where that is near and nobody set the end, so that what is highest stands below a
    /// mark.</summary>
    public static (double From, double To) ToNextMark(Axis axis, (double From, double To) range, int mostTicks)
    {
        if (axis.IsLogarithmic || axis.From is null || axis.To is not null)
            return range;
        IReadOnlyList<double> ticks = RoundNumbers.Between(range.From, range.To, mostTicks);
        double next = ticks.Count < 2 ? range.To : ticks[^1] + (ticks[1] - ticks[0]);
        return range.To - ticks[^1] > 0.1 * (next - ticks[^1]) ? (range.From, next) : range;
    }

    public IReadOnlyList<(double Value, string Text)> Ticks { get; }

    /// <summary>Room that the marks of an upright axis need beside it.</summary>
    public double TickWidth => Ticks.Select(t => Lettering.Width(t.Text, MarkSheet.TextSize)).DefaultIfEmpty(0).Max() + 8;

    public bool CanShow(double value) => _axis.CanShow(value);

    /// <summary>Where a value lies; what lies beyond the range stands at its edge.</summary>
    public double At(double value) =>
        _from + Math.Clamp((_axis.Place(value) - _range.From) / (_range.To - _range.From), -0.02, 1.02) * (_to - _from);

    /// <summary>Where a value lies, also far beyond the range.</summary>
    public double Beyond(double value) => _from + (_axis.Place(value) - _range.From) / (_range.To - _range.From) * (_to - _from);

    public bool Holds(double value) => CanShow(value) && _axis.Place(value) >= _range.From && _axis.Place(value) <= _range.To;

    /// <summary>The axis along the bottom with its name, and faint lines upwards from it where there is something to hold against
    /// them.</summary>
    public void DrawBelow(MarkSheet sheet, double y, double? gridTop = null, bool hasNumbers = true)
    {
        double free = double.NegativeInfinity;
        foreach ((double value, string text) in Ticks)
        {
            if (gridTop is { } top)
                sheet.Draw(HouseColours.Grid, Look.Faint, Outline.Line(At(value), top, At(value), y));
            sheet.Draw(HouseColours.Soft, Look.Thin, Outline.Line(At(value), y, At(value), y + 4));
            double half = RowName.Width(text) / 2;
            // marks of a logarithm crowd; one that has no room for its number has none
            if (!hasNumbers || At(value) - half < free)
                continue;
            sheet.Write(HouseColours.Soft, text, At(value), y + 17, SKTextAlign.Center);
            free = At(value) + half + 5;
        }

        sheet.Draw(HouseColours.Soft, Look.Thin, Outline.Line(_from, y, _to, y));
        if (hasNumbers)
            sheet.Write(HouseColours.Soft, _axis.Label, (_from + _to) / 2, y + 36, SKTextAlign.Center, hasQuantities: true);
    }

    /// <summary>The marks along the left, with faint lines across, and the name above them.</summary>
    /// <param name="room">What stands free beside it, 0 where a neighbour has the numbers; by default what they need.</param>
    public void DrawLeft(MarkSheet sheet, Area area, double? room = null)
    {
        foreach ((double value, string text) in Ticks)
        {
            sheet.Draw(HouseColours.Grid, Look.Faint, Outline.Line(area.Left, At(value), area.Right, At(value)));
            if (room is not 0)
                sheet.Write(HouseColours.Soft, text, area.Left - 7, At(value) + 4, SKTextAlign.Right);
        }

        if (room is not 0)
            sheet.Write(HouseColours.Soft, _axis.Label, area.Left - (room ?? TickWidth), area.Top - 12, hasQuantities: true);
    }
}
