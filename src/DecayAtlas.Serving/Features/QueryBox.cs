using System.Globalization;

namespace DecayAtlas.Serving.Features;

/// <summary>A box on the Earth in degrees, WGS 84, its edges included. Where its west is greater than its east it crosses the 180th
/// meridian (OGC 17-069r4, 7.15.3). A stated height is read and has no effect, since features have none.</summary>
internal readonly record struct QueryBox(double West, double South, double East, double North)
{
    /// <summary>Reads the parameter <c>bbox</c>: four numbers, or six with heights at the third and sixth place.</summary>
    /// <exception cref="QueryFaultException">It is no box on the Earth.</exception>
    public static QueryBox Parse(string text)
    {
        string[] parts = text.Split(',');
        if (parts.Length is not (4 or 6))
            throw Fault(text, $"{parts.Length} value{(parts.Length == 1 ? "" : "s")}");
        double[] numbers = [.. parts.Select(part =>
            double.TryParse(part, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) && double.IsFinite(number)
                ? number : throw Fault(text, "a value that is no number"))];
        if (numbers is [_, _, double low, _, _, double high] && low > high)
            throw Fault(text, "a lower height above the upper one");
        QueryBox box = new(numbers[0], numbers[1], numbers[parts.Length / 2], numbers[parts.Length / 2 + 1]);
        if (Math.Abs(box.West) > 180 || Math.Abs(box.East) > 180 || Math.Abs(box.South) > 90 || Math.Abs(box.North) > 90)
            throw Fault(text, "a corner off the Earth");
        return box.South <= box.North ? box : throw Fault(text, "a south that lies north of its north");
    }

    public bool Contains(double longitude, double latitude) =>
        latitude >= South && latitude <= North
        && (West <= East ? longitude >= West && longitude <= East : longitude >= West || longitude <= East);

    /// <summary>The box as the parameter is written.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{West:R},{South:R},{East:R},{North:R}");

    private static QueryFaultException Fault(string text, string found) => new(
        $"bbox is {QueryFaultException.Quoted(text)} with {found}; expected west,south,east,north in degrees (longitude -180 to 180, "
        + "latitude -90 to 90), for example bbox=-10,35,30,60.");
}
