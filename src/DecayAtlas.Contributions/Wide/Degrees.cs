using System.Globalization;
using System.Text.RegularExpressions;

namespace DecayAtlas.Contributions.Wide;

/// <summary>Reads coordinates in degrees, minutes and seconds: 47°18'36.9"N, 47 18 36.9 N, N47° 18.615', 47.31 N.</summary>
internal static partial class Degrees
{
    private static readonly string[] PartNames = ["degrees", "minutes", "seconds"];

    public static (string Text, Finding? Fault) Read(FieldSchema field, string text)
    {
        bool isLatitude = field.Name.Contains("latitude", StringComparison.Ordinal);
        Match match = Form().Match(Plain(text));
        if (!match.Success)
            return Fault(field, text, isLatitude ? "write it as 47°18'36.9\"N" : "write it as 11°12'15.0\"W");
        string letter = match.Groups["before"].Value + match.Groups["after"].Value;
        string sign = match.Groups["sign"].Value;
        if (letter.Length > 1 || (letter.Length == 1 && sign.Length == 1))
            return Fault(field, text, "state the half of the Earth once, by a letter or by a sign");
        if (letter.Length == 1 && !(isLatitude ? "NS" : "EW").Contains(letter, StringComparison.Ordinal))
            return ("", OfOtherAxis(field, text));

        string[] parts = [.. PartNames.Select(name => match.Groups[name].Value).Where(part => part.Length > 0)];
        if (parts.SkipLast(1).Any(part => part.Contains('.', StringComparison.Ordinal)))
            return Fault(field, text, "only the last of degrees, minutes and seconds may have decimals");
        double[] numbers = [.. parts.Select(part => double.Parse(part, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture))];
        if (numbers.Skip(1).Any(number => number >= 60))
            return Fault(field, text, "minutes and seconds are below 60");
        double degrees = numbers[0] + numbers.ElementAtOrDefault(1) / 60 + numbers.ElementAtOrDefault(2) / 3600;
        bool isNegative = sign == "-" || letter is "S" or "W";
        return ((isNegative ? -degrees : degrees).ToString("R", CultureInfo.InvariantCulture), null);
    }

    /// <summary>The finding for a letter that no latitude or no longitude has.</summary>
    public static Finding OfOtherAxis(FieldSchema field, string text) => Fault(field, text, field.Name.Contains("latitude",
        StringComparison.Ordinal) ? "a latitude is N or S; look whether two columns were exchanged"
            : "a longitude is E or W; look whether two columns were exchanged").Item2;

    /// <summary>Whether a text has the marks of this form, which decimal degrees do not have.</summary>
    public static bool LooksLike(string text) =>
        Plain(text) is { } plain && Form().Match(plain) is { Success: true } match
        && (match.Groups["minutes"].Length > 0 || match.Groups["before"].Length + match.Groups["after"].Length > 0
            || plain.Contains('°', StringComparison.Ordinal));

    // The many signs for degree, minute and second as one each.
    private static string Plain(string text) => text.Trim().ToUpperInvariant()
        .Replace('\u00BA', '°').Replace('\u02DA', '°').Replace('\u2032', '\'').Replace('\u2019', '\'').Replace('\u00B4', '\'')
        .Replace('\u2033', '"').Replace('\u201D', '"').Replace('\u2212', '-').Replace('\u00A0', ' ')
        .Replace("''", "\"", StringComparison.Ordinal);

    private static (string, Finding) Fault(FieldSchema field, string text, string mend) =>
        ("", field.Fault(FindingCode.NotDegrees, FindingText.Quote(text),
            "a coordinate in degrees, minutes and seconds", mend));

    [GeneratedRegex(
        """\A(?<before>[NSEW]?)\s*(?<sign>[+-]?)(?<degrees>\d{1,3}(\.\d+)?)\s*°?\s*"""
        + """((?<minutes>\d{1,2}(\.\d+)?)\s*'?\s*((?<seconds>\d{1,2}(\.\d+)?)\s*"?\s*)?)?(?<after>[NSEW]?)\z""",
        RegexOptions.CultureInvariant | RegexOptions.NonBacktracking)]
    private static partial Regex Form();
}
