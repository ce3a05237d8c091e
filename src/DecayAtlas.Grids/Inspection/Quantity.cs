using System.Text.RegularExpressions;

namespace DecayAtlas.Grids.Inspection;

/// <summary>What a covariate measures, as far as its unit and its words tell.</summary>
internal enum QuantityKind
{
    Unknown,
    Temperature,
    Precipitation,
    Acidity,
    Elevation,
    Density,
}

/// <summary>Recognises quantities and units that the world's grids are published in.</summary>
internal static partial class Quantity
{
    private const RegexOptions CaselessNonBacktracking = RegexOptions.IgnoreCase | RegexOptions.NonBacktracking;

    public static QuantityKind Of(string name, string title, string unit)
    {
        string words = $"{name} {title}";
        return (UnitOf(unit) ?? "") switch
        {
            "pH" => QuantityKind.Acidity,
            "degC" or "K" when !Spread().IsMatch(words) => QuantityKind.Temperature,
            "mm" or "m" when Rain().IsMatch(words) => QuantityKind.Precipitation,
            "m" when Height().IsMatch(words) => QuantityKind.Elevation,
            "g/cm3" when Bulk().IsMatch(words) => QuantityKind.Density,
            "" or "1" when Ph().IsMatch(words) => QuantityKind.Acidity,
            "" or "1" when Warmth().IsMatch(words) && !Spread().IsMatch(words) => QuantityKind.Temperature,
            "" or "1" when Rain().IsMatch(words) => QuantityKind.Precipitation,
            _ => QuantityKind.Unknown,
        };
    }

    /// <summary>One spelling for the units that are known: degC, K, mm (whatever the time), m, %, 1, pH, g/kg, g/cm3; null for
    /// others.</summary>
    public static string? UnitOf(string? unit)
    {
        string plain = (unit ?? "").Trim().ToLowerInvariant().Replace("°", "deg", StringComparison.Ordinal).Replace('_', ' ');
        return plain switch
        {
            "degc" or "deg c" or "c" or "celsius" or "degree celsius" or "degrees celsius" or "degrees c" or "degreec" or "deg celsius" =>
                "degC",
            "k" or "kelvin" or "degk" or "deg k" or "degrees kelvin" => "K",
            "m" or "metre" or "metres" or "meter" or "meters" => "m",
            "%" or "percent" or "pct" => "%",
            "1" or "fraction" or "m3/m3" or "m3 m-3" or "kg kg-1" => "1",
            "ph" or "ph units" => "pH",
            "g/kg" or "g kg-1" => "g/kg",
            "g/cm3" or "g cm-3" or "kg/dm3" or "kg dm-3" or "t/m3" => "g/cm3",
            _ when Millimetres().IsMatch(plain) => "mm",
            _ => null,
        };
    }

    /// <summary>Whether a depth of water in mm is that of a day.</summary>
    public static bool IsDaily(string unit) => Daily().IsMatch(unit.Trim());

    /// <summary>Whether a depth of water in mm is that of a year.</summary>
    public static bool IsYearly(string name, string title, string unit) => Yearly().IsMatch($"{name} {title} {unit}");

    [GeneratedRegex(@"^(mm|millimet(re|er)s?|kg[ /]?m-?\^?2)(\b|/|$)", CaselessNonBacktracking)]
    private static partial Regex Millimetres();

    [GeneratedRegex(@"(/\s*d(ay)?|d(ay)?\s*-1)$", CaselessNonBacktracking)]
    private static partial Regex Daily();

    [GeneratedRegex(@"annual|year|/\s*yr?\b|yr\s*-1|a-1", CaselessNonBacktracking)]
    private static partial Regex Yearly();

    [GeneratedRegex(@"temp|warmth|(^|[_ ])t(avg|mean|min|max|as)([_ ]|\d|$)", CaselessNonBacktracking)]
    private static partial Regex Warmth();

    [GeneratedRegex(@"range|season|deviation|response|anomal|gradient|amplitude|differ", CaselessNonBacktracking)]
    private static partial Regex Spread();

    [GeneratedRegex(@"precip|rain|(^|[_ ])(ppt|pr|prec)([_ ]|\d|$)", CaselessNonBacktracking)]
    private static partial Regex Rain();

    [GeneratedRegex(@"elevation|altitude|height|(^|[_ ])(dem|elev)([_ ]|$)", CaselessNonBacktracking)]
    private static partial Regex Height();

    [GeneratedRegex(@"(^|[_ ])ph([_ ]|\d|$)|acidity", CaselessNonBacktracking)]
    private static partial Regex Ph();

    [GeneratedRegex(@"bulk|density", CaselessNonBacktracking)]
    private static partial Regex Bulk();
}
