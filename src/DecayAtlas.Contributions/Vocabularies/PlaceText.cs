using System.Globalization;
using System.Text.RegularExpressions;

namespace DecayAtlas.Contributions.Vocabularies;

/// <summary>One half of a position as people write it.</summary>
/// <param name="Degrees">Without its side, or with a minus where that is written.</param>
/// <param name="Letter">N, S, E, W or O where one is written.</param>
internal sealed record WrittenDegrees(double Degrees, char? Letter)
{
    public bool IsSigned => Degrees < 0;

    public bool? IsLatitude => Letter switch { 'N' or 'S' => true, 'E' or 'W' or 'O' => false, _ => null };
}

/// <summary>Reads coordinates in degrees, minutes and seconds of four languages: 47°48'22"N, 10° 24,3' O, S33.7712, 46,8123 N / 71,2145
/// O.</summary>
internal static partial class PlaceText
{
    public static WrittenDegrees? Of(string text) => All(text) is [WrittenDegrees only] ? only : null;

    /// <summary>Both halves of a position in one text, the latitude first where letters say so; null for anything else.</summary>
    public static (WrittenDegrees First, WrittenDegrees Second)? PairOf(string text) =>
        All(text) is [WrittenDegrees first, WrittenDegrees second] && !double.IsNaN(first.Degrees)
            && text.Any(c => c is '.' or ',' or '°' or '\'' or 'º')
            ? first.IsLatitude == false || second.IsLatitude == true ? (second, first) : (first, second) : null;

    private static List<WrittenDegrees>? All(string text)
    {
        if (text.Length is 0 or > 120 || !text.AsSpan().ContainsAnyInRange('0', '9'))
            return null;
        string plain = text.Trim().Replace('\u00BA', '°').Replace('\u02DA', '°').Replace('\u2032', '\'').Replace('\u2019', '\'')
            .Replace('\u00B4', '\'')
            .Replace('\u2033', '"').Replace('\u201D', '"').Replace('\u201C', '"').Replace('\u2212', '-').Replace('\u00A0', ' ')
                .Replace('\n', ' ')
            .Replace("''", "\"", StringComparison.Ordinal);
        string folded = Words().Replace(Identifier.Folded(plain), word => LetterOf(word.Value));
        // where decimals have a point, a comma stands between the two
        folded = (folded.Contains('.', StringComparison.Ordinal) ? folded.Replace(',', ' ') : CommaInNumber().Replace(folded, "$1.$2"))
            .ToUpperInvariant();
        List<WrittenDegrees> halves = [];
        string rest = folded;
        while (rest.Length > 0)
        {
            rest = rest.TrimStart(' ', ',', ';', '/', '|', '(', ')', '·', '&', ':', '=');
            if (rest.Length == 0)
                break;
            Match match = LetterFirst().Match(rest) is { Success: true } first ? first : LetterLast().Match(rest);
            if (!match.Success)
                return null;
            if (Half(match) is not { } half)
                return null;
            halves.Add(half);
            rest = rest[match.Length..];
            if (halves.Count > 2)
                return null;
        }
        return halves;
    }

    private static WrittenDegrees? Half(Match match)
    {
        double degrees = Number(match.Groups["degrees"]), minutes = Number(match.Groups["minutes"]),
            seconds = Number(match.Groups["seconds"]);
        if (minutes >= 60 || seconds >= 60 || (minutes > 0 && degrees != Math.Floor(degrees))
            || (seconds > 0 && minutes != Math.Floor(minutes)))
        {
            return null;
        }

        double whole = degrees + minutes / 60 + seconds / 3600;
        string letter = match.Groups["letter"].Value;
        return new WrittenDegrees(match.Groups["sign"].Value == "-" ? -whole : whole, letter.Length == 1 ? letter[0] : null);
    }

    private static double Number(Group group) =>
        group.Success && group.Length > 0 ? double.Parse(group.Value, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture) : 0;

    private static string LetterOf(string word) => word switch
    {
        "nord" or "norte" or "north" => "N",
        "sud" or "sur" or "south" or "suden" => "S",
        "oeste" or "ouest" or "west" or "westen" => "W",
        "ost" or "este" or "est" or "east" or "osten" => "E",
        "lat" or "latitud" or "latitude" or "lon" or "long" or "longitud" or "longitude" or "breite" or "lange" or "gps" => " ",
        "grad" or "grados" or "grado" or "degres" or "degre" or "degrees" or "deg" => "°",
        _ => word,
    };

    [GeneratedRegex(@"\p{L}+", RegexOptions.CultureInvariant | RegexOptions.NonBacktracking)]
    private static partial Regex Words();

    [GeneratedRegex(@"(\d),(\d)", RegexOptions.CultureInvariant | RegexOptions.NonBacktracking)]
    private static partial Regex CommaInNumber();

    private const string Parts =
        """(?<sign>[+-]?)\s*(?<degrees>\d{1,3}(\.\d+)?)\s*(°\s*((?<minutes>\d{1,2}(\.\d+)?)\s*'?\s*("""
        + """(?<seconds>\d{1,2}(\.\d+)?)\s*"\s*)?)?)?""";

    [GeneratedRegex(@"\A(?<letter>[NSEWO])\s*" + Parts, RegexOptions.CultureInvariant | RegexOptions.NonBacktracking)]
    private static partial Regex LetterFirst();

    [GeneratedRegex(@"\A" + Parts + @"\s*(?<letter>[NSEWO]?)", RegexOptions.CultureInvariant | RegexOptions.NonBacktracking)]
    private static partial Regex LetterLast();
}
