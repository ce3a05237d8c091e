using System.Globalization;

namespace DecayAtlas.Grids.Formats.Cf;

internal enum AxisKind
{
    X,
    Y,
    Time,
    Other,
}

/// <summary>One dimension of a variable with its coordinates (CF conventions 1.11, chapters 4, 5 and 7.1).</summary>
internal sealed class CfAxis(string path, CdfDimension dimension, CdfVariable? variable, AxisKind kind)
{
    public CdfDimension Dimension => dimension;

    public CdfVariable? Variable => variable;

    public AxisKind Kind => kind;

    public bool IsDegrees => Variable?.Text("units")?.StartsWith("degree", StringComparison.OrdinalIgnoreCase) == true;

    public static CfAxis Of(CdfFile file, CdfDimension dimension)
    {
        CdfVariable? variable = file.Variables.FirstOrDefault(v => v.Name == dimension.Name && v.Dimensions.Count == 1);
        return new CfAxis(file.Path, dimension, variable, KindOf(dimension.Name, variable));
    }

    /// <summary>Outer edges of the first and last cell and the signed cell size, when the cells are equally wide.</summary>
    public (double First, double Last, double Step) Edges(CdfFile file)
    {
        double[] centres = ValuesIn(file);
        if (centres.Length == 0)
            throw new GridException($"{path}: dimension {Dimension.Name} has no coordinates, so that nobody knows where its cells lie.");

        int n = centres.Length;
        double[] bounds = file.Find(Variable!.Text("bounds")) is { Dimensions.Count: 2 } b && b.Dimensions[1].Length == 2
            && b.Dimensions[0].Length == n
            ? file.ReadAll(b) : [];
        if (bounds.Length == 2 * n)
        {
            // Bounds of a cell may come in either order; the direction is that of the coordinates.
            bool rising = n > 1 ? centres[^1] > centres[0] : bounds[1] >= bounds[0];
            double first = rising ? Math.Min(bounds[0], bounds[1]) : Math.Max(bounds[0], bounds[1]);
            double last = rising ? Math.Max(bounds[^2], bounds[^1]) : Math.Min(bounds[^2], bounds[^1]);
            double step = (last - first) / n;
            if (step != 0 && Enumerable.Range(0, n).All(i =>
                Math.Abs(Math.Min(bounds[2 * i], bounds[2 * i + 1]) - (first + (rising ? i : i + 1) * step)) < 1e-3 * Math.Abs(step)
                && Math.Abs(Math.Max(bounds[2 * i], bounds[2 * i + 1]) - (first + (rising ? i + 1 : i) * step)) < 1e-3 * Math.Abs(step)))
            {
                return (Clean(first, step), Clean(last, step), step);
            }
        }

        double size = n > 1 ? (centres[^1] - centres[0]) / (n - 1) : double.NaN;
        for (int i = 0; i < n; i++)
        {
            // Single precision holds a coordinate of 180 to a hundred-thousandth.
            if (!(Math.Abs(centres[i] - (centres[0] + i * size)) <= 2e-3 * Math.Abs(size)) || size == 0)
            {
                throw new GridException(
                    $"{path}: the cells along {Dimension.Name} are not equally wide (or there is one without bounds); regrid the file, "
                    + "for example with gdalwarp or cdo remapcon.");
            }
        }

        return (Clean(centres[0] - size / 2, size), Clean(centres[^1] + size / 2, size), size);
    }

    // An edge that misses a round number by rounding alone is that number: 90 and not 89.99999999999999.
    private static double Clean(double edge, double size) =>
        Math.Round(edge, 9) is var round && Math.Abs(round - edge) < 1e-8 * Math.Abs(size) ? round : edge;

    /// <summary>The step that a catalogue asks for: "#2" for the second, a date or month for time, a number for other
    /// coordinates.</summary>
    public long Select(CdfFile file, string wanted)
    {
        string text = wanted.Trim();
        if (text.StartsWith('#'))
        {
            return long.TryParse(text.AsSpan(1), NumberStyles.None, CultureInfo.InvariantCulture, out long step) && step >= 1
                && step <= Dimension.Length
                ? step - 1
                : throw new GridException(
                    $"{path}: step {text} of {Dimension.Name} was asked for, and it has steps #1 to #{Dimension.Length}.");
        }

        double[] values = ValuesIn(file);
        int[] found = [.. Enumerable.Range(0, values.Length)
            .Where(i => Kind == AxisKind.Time ? IsAt(DayOf(values[i]), text) : IsAt(values[i], text))];
        return found is [int only] ? only
            : throw new GridException(
                $"{path}: {found.Length} steps of {Dimension.Name} are at {text}, and one was expected; there are {Listing(values)}.");
    }

    public string Listing(CdfFile file) => Listing(ValuesIn(file));

    public IReadOnlyList<CalendarDay> Days(CdfFile file) => [.. ValuesIn(file).Select(DayOf)];

    /// <summary>The days that the steps of a time axis reach from and to; null where the file states no bounds.</summary>
    public (CalendarDay From, CalendarDay Before)[]? Bounds(CdfFile file)
    {
        CdfVariable? bounds = file.Find(Variable?.Text("bounds"));
        if (bounds is not { Dimensions.Count: 2 } || bounds.Dimensions[1].Length != 2 || bounds.Dimensions[0].Length != Dimension.Length)
            return null;

        double[] ends = file.ReadAll(bounds);
        return [.. Enumerable.Range(0, ends.Length / 2).Select(i => (DayOf(ends[2 * i]), DayOf(ends[2 * i + 1])))];
    }

    private double[] ValuesIn(CdfFile file) => Variable is null ? [] : file.ReadAll(Variable);

    private string Listing(double[] values)
    {
        IEnumerable<string> names = values.Select(v => Kind == AxisKind.Time ? DayOf(v).ToString() : Text(v));
        return values.Length == 0 ? $"#1 to #{Dimension.Length}"
            : values.Length <= 12 ? string.Join(", ", names)
            : $"{string.Join(", ", names.Take(6))} ... {names.Last()} ({values.Length} in all)";
    }

    private CalendarDay DayOf(double value) => CfTime.Read(path, Variable!.Text("units")!, Variable.Text("calendar")).DayOf(value);

    // A number stored in single precision is shown as it was written: 0.15 and not 0.150000006.
    public string Text(double value) => Variable!.Type is { IsFloatingPoint: true, Bytes: 4 }
        ? $"{(float)value}" : $"{value}";

    // "1999", "1999-07" and "1999-07-16" name a year, a month and a day; "month 7" that month of any year.
    private static bool IsAt(CalendarDay day, string text) =>
        text.StartsWith("month ", StringComparison.Ordinal)
            ? text[6..].Trim().TrimStart('0') == $"{day.Month}"
            : text.Length >= 4 && (day.ToString() == text || day.ToString().StartsWith(text + "-", StringComparison.Ordinal));

    // "month 5" on an axis that merely counts months is its coordinate 5.
    private static bool IsAt(double value, string text) =>
        double.TryParse(text.StartsWith("month ", StringComparison.Ordinal) ? text[6..] : text, NumberStyles.Float,
            CultureInfo.InvariantCulture, out double wanted)
        && Math.Abs(value - wanted) <= 1e-5 * Math.Max(1e-3, Math.Abs(wanted));

    private static AxisKind KindOf(string name, CdfVariable? variable)
    {
        string units = variable?.Text("units")?.Trim() ?? "";
        string standard = variable?.Text("standard_name")?.Trim() ?? "";
        string axis = variable?.Text("axis")?.Trim() ?? "";
        if (CfTime.IsTime(units))
            return AxisKind.Time;

        if (standard is "longitude" or "projection_x_coordinate" || axis == "X"
            || units is "degrees_east" or "degree_east" or "degree_E" or "degrees_E" or "degreeE" or "degreesE")
        {
            return AxisKind.X;
        }

        if (standard is "latitude" or "projection_y_coordinate" || axis == "Y"
            || units is "degrees_north" or "degree_north" or "degree_N" or "degrees_N" or "degreeN" or "degreesN")
        {
            return AxisKind.Y;
        }

        return AxisKind.Other;
    }
}
