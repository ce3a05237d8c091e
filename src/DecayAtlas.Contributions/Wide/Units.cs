using System.Globalization;

namespace DecayAtlas.Contributions.Wide;

/// <summary>Units that a column may be in, and the exact factors between them. Inch and foot are the international ones (25.4 mm, 304.8 mm;
/// NIST SP 811, B.8), the ounce is the avoirdupois one (28.349523125 g; NIST Handbook 44, appendix C); a bit,
/// the unit of a Shannon index with base 2, is ln 2 nat, the one factor that is rounded.</summary>
internal static class Units
{
    // Unit, what it measures, and its size in the first unit of its kind.
    private static readonly (string Unit, string Kind, decimal Size)[] Known =
    [
        ("g", "mass", 1m), ("mg", "mass", 0.001m), ("kg", "mass", 1000m), ("oz", "mass", 28.349523125m),
        ("m", "length", 1m), ("km", "length", 1000m), ("cm", "length", 0.01m), ("mm", "length", 0.001m), ("um", "length", 0.000001m),
        ("in", "length", 0.0254m), ("ft", "length", 0.3048m),
        ("nat", "information", 1m), ("bit", "information", 0.6931471805599453094172321215m),
        ("1", "share", 1m), ("fraction", "share", 1m), ("percent", "share", 0.01m),
        ("degrees Celsius", "temperature", 1m), ("celsius", "temperature", 1m),
    ];

    /// <summary>The units that a field may be given in; empty where it has no unit to choose.</summary>
    public static IReadOnlyList<string> For(FieldSchema field)
    {
        string? kind = Known.FirstOrDefault(known => known.Unit == field.Unit).Kind;
        return kind is null ? []
            : [.. Known.Where(known => known.Kind == kind && known.Unit is not ("1" or "degrees Celsius")).Select(known => known.Unit)];
    }

    /// <summary>How many grams a unit of mass is; null for any other, and for none.</summary>
    public static double? InGrams(string? unit) => Known.FirstOrDefault(known => known.Unit == unit) is { Kind: "mass", Size: var size }
        ? (double)size : null;

    /// <summary>A number in another unit, as text; null when the text is no number.</summary>
    /// <remarks>Decimal arithmetic where it fits, so that 2060 mg is 2.06 g and not 2.0600000000000001 g.</remarks>
    public static string? Convert(string number, string from, FieldSchema field)
    {
        decimal size = SizeOf(from), wanted = SizeOf(field.Unit!);
        if (size == wanted)
            return number;
        if (decimal.TryParse(number, NumberStyles.Float, CultureInfo.InvariantCulture, out decimal exact) && Math.Abs(exact) < 1e15m)
            return (exact * (size / wanted)).ToString("G29", CultureInfo.InvariantCulture);
        return double.TryParse(number, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && double.IsFinite(value)
            ? (value * (double)(size / wanted)).ToString("R", CultureInfo.InvariantCulture)
            : null;
    }

    private static decimal SizeOf(string unit) => Known.First(known => known.Unit == unit).Size;
}
