using System.Globalization;
using System.Text.RegularExpressions;

namespace DecayAtlas.Contributions.Wide;

/// <summary>A number as people write it into a cell: 1,02 g; 1.994 mg; 2'431; 0,87 (torn); about 2.05.</summary>
/// <param name="Digits">The number with all its signs.</param>
/// <param name="Unit">g, mg, kg, oz or percent; null where none stands behind it.</param>
/// <param name="Beside">What else stands in the cell, without the brackets round it; empty where nothing does.</param>
internal sealed partial record WrittenNumber(string Digits, string? Unit, string Beside)
{
    private static readonly Dictionary<string, string> UnitOf = new (string Meaning, string Words)[]
    {
        ("g", "g gr gr. gramm gram grams gramos grammes"),
        ("mg", "mg"),
        ("kg", "kg"),
        ("oz", "oz oz. ounce ounces onza onzas onces unze unzen"),
        ("percent", "% percent prozent"),
    }.SelectMany(entry => entry.Words.Split(' ').Select(word => (word, entry.Meaning)))
        .ToDictionary(pair => pair.word, pair => pair.Meaning, StringComparer.OrdinalIgnoreCase);

    // words before a number that make it no other number
    private static readonly HashSet<string> About = new(StringComparer.OrdinalIgnoreCase)
    {
        "", "~", "≈", "ca", "ca.", "circa", "about", "approx", "approx.", "aprox", "aprox.", "env", "env.", "environ", "etwa", "ungefähr",
        "ungef.", "rund", "unos", "=",
    };

    private const int Longest = 300;

    /// <summary>The numbers in a cell, by their digits, where it has several of which any may be meant: 2.20 (2.02), 2,02 statt 2,20. Empty
    /// where it has one or none; what stands behind ± is no other number.</summary>
    public static IReadOnlyList<string> SeveralIn(string text)
    {
        if (text.Length > Longest)
            return [];
        int spread = text.AsSpan().IndexOf('±') is var sign and >= 0 ? sign : text.IndexOf("+/-", StringComparison.Ordinal);
        string[] numbers = [.. NumberIn().Matches(spread > 0 ? text[..spread] : text).Select(match => match.Value)
            .Where(digits => Alone(digits) is not null)];
        return numbers.Distinct().Count() > 1 ? numbers : [];
    }

    /// <summary>The digits of the one number behind words, as in torn: 1.50 g; null where it is not so.</summary>
    public static string? BehindWords(string text) => text.Length <= Longest && Of(text) is null
        && NumberIn().Matches(text) is [Match only] && only.Index > 0 && Of(text[only.Index..]) is { Beside: "" } number
            ? number.Digits : null;

    /// <summary>The digits of the one number in brackets or beside raised signs, as in (3,87) or 2.06²; null where it is not so.</summary>
    public static string? InSigns(string text) => text.Length <= Longest && Of(text) is null
        && NumberIn().Matches(text) is [Match only] && Alone(only.Value) is not null
        && text.Remove(only.Index, only.Length).All("()[]{}<>*²³¹!? ".Contains) ? only.Value : null;

    /// <summary>A number as it can be read alone, whatever the signs of its column.</summary>
    public static string? Alone(string digits) => Plain(digits, '.', '\0') ?? Plain(digits, ',', '\0') ?? Plain(digits, '.', ',')
        ?? Plain(digits, ',', '.') ?? Plain(digits, '.', '\'') ?? Plain(digits, ',', '\'');

    public static WrittenNumber? Of(string text)
    {
        if (text.Length > Longest)
            return null;
        Match match = Form().Match(text.Trim());
        if (!match.Success || !About.Contains(match.Groups["before"].Value.Trim()))
            return null;
        string before = match.Groups["before"].Value.Trim(), rest = match.Groups["rest"].Value.Trim();
        string first = rest.Split(' ', '(', ';', ',')[0];
        string? unit = UnitOf.GetValueOrDefault(first);
        string beside = unit is null ? rest : rest[first.Length..];
        // what is glued to a number makes another word of it: 12th, 3rd, 1S, 12-oct-25
        if (unit is null && match.Groups["rest"].Value is { Length: > 0 } glued && !char.IsWhiteSpace(glued[0])
            && glued[0] is not ('(' or '['
            or '?' or '*' or '!' or ';'))
        {
            return null;
        }
        beside = $"{before} {beside.Trim(' ', '(', ')', '[', ']', ';', ',', '–')}".Trim();
        return new WrittenNumber(match.Groups["digits"].Value.Replace('\u2212', '-'), unit, beside);
    }

    /// <summary>The number in invariant writing; null where its signs say something else than the order of them that is given.</summary>
    /// <param name="decimalSign">'.' or ','; '\0' where the cells of a column have both, and each is what it can be alone.</param>
    /// <param name="thousands">The sign between thousands; '\0' for none.</param>
    public static string? Plain(string digits, char decimalSign, char thousands)
    {
        string plain = digits;
        foreach (char space in "'’\u2019\u00A0\u202F ")
        {
            if (plain.Contains(space, StringComparison.Ordinal))
            {
                if (thousands is not ('\'' or ' ') || !InThrees(plain, space))
                    return null;
                plain = plain.Replace(space.ToString(), "", StringComparison.Ordinal);
            }
        }
        if (thousands is '.' or ',' && plain.Contains(thousands, StringComparison.Ordinal))
        {
            string whole = decimalSign == '\0' ? plain : plain.Split(decimalSign)[0];
            if (!InThrees(whole, thousands))
                return null;
            plain = plain.Replace(thousands.ToString(), "", StringComparison.Ordinal);
        }
        if (decimalSign == '\0')
        {
            if (plain.AsSpan().Count('.') + plain.AsSpan().Count(',') > 1)
                return null;
            plain = plain.Replace(',', '.');
        }
        else
        {
            if (plain.Contains(decimalSign == '.' ? ',' : '.', StringComparison.Ordinal) || plain.AsSpan().Count(decimalSign) > 1)
                return null;
            plain = plain.Replace(decimalSign, '.');
        }
        return double.TryParse(plain, NumberStyles.Float, CultureInfo.InvariantCulture, out _) ? plain : null;
    }

    private static bool InThrees(string number, char sign)
    {
        string[] parts = number.TrimStart('-', '+').Split(sign);
        return parts[0].Length is >= 1 and <= 3 && parts.Skip(1).All(part => part.TakeWhile(char.IsAsciiDigit).Count() == 3
            && (part.Length == 3 || !char.IsAsciiDigit(part[3])));
    }

    [GeneratedRegex(@"\d+([.,'’\u00A0\u202F]\d+|[ ]\d{3}\b)*",
        RegexOptions.CultureInvariant | RegexOptions.NonBacktracking | RegexOptions.ExplicitCapture)]
    private static partial Regex NumberIn();

    [GeneratedRegex("""\A(?<before>[^\d+\u2212-]*?)\s*(?<digits>[+\u2212-]?\d+([.,'’\u00A0\u202F]\d+|[ ]\d{3})*)(?<rest>.*)\z""",
        RegexOptions.CultureInvariant | RegexOptions.NonBacktracking | RegexOptions.ExplicitCapture | RegexOptions.Singleline)]
    private static partial Regex Form();
}
