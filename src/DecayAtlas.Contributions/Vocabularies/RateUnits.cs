using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;

namespace DecayAtlas.Contributions.Vocabularies;

/// <summary>What the numbers under a rate are counted in: k (10⁻³ d⁻¹), % per year, per 1000 days.</summary>
/// <param name="Days">In the time that it is of; null where none is said.</param>
/// <param name="Exponent">Of the power of ten that stands beside it; 0 for none.</param>
/// <param name="Share">What 1 is of all: a hundredth in percent.</param>
internal sealed record RateUnit(double? Days, int Exponent, double Share)
{
    public bool IsSaid => Days is not null || Exponent != 0 || Share != 1;
}

internal static partial class RateUnits
{
    private const string Superscripts = "⁰¹²³⁴⁵⁶⁷⁸⁹", DayWords = "days?|d|tage?n?|jours?|j|dias?";

    /// <summary>The unit in the name of a column and in what stands below it.</summary>
    public static RateUnit Of(string name, string? below = null)
    {
        (RateUnit unit, _) = Read($"{name} {below}");
        return unit;
    }

    /// <summary>Whether a text is such a unit and nothing else.</summary>
    public static bool Is(string text)
    {
        if (text.Length > 24)
            return false;
        (RateUnit unit, string rest) = Read(text);
        return unit.Days is not null && !rest.Any(c => char.IsLetter(c) || (char.IsAsciiDigit(c) && c != '1'));
    }

    // with what is left of the text
    private static (RateUnit Unit, string Left) Read(string text)
    {
        string rest = Folded(text);
        (int exponent, double share, double? days) = (0, 1, null);
        if (Power().Match(rest) is { Success: true } power)
        {
            exponent = int.Parse(power.Groups["caret"].Value + power.Groups["minus"].Value + power.Groups["short"].Value,
                NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture);
            rest = Without(rest, power);
        }
        else if (Times().Match(rest) is { Success: true } times)
        {
            exponent = times.Groups["zeros"].Length;
            rest = Without(rest, times);
        }
        if (Part().Match(rest) is { Success: true } part)
        {
            share = part.Value.Contains('%', StringComparison.Ordinal) ? 0.01 : 0.001;
            rest = Without(rest, part);
        }
        if (Time().Match(rest) is { Success: true } daily)
        {
            string count = daily.Groups["n"].Value + daily.Groups["m"].Value;
            days = count.Length == 0 ? 1 : double.Parse(count, CultureInfo.InvariantCulture);
            rest = Without(rest, daily);
        }
        else if (TimeUnits.DaysPer(text) is { } longer)
        {
            days = longer;
            rest = string.Concat(rest.Where(c => !char.IsLetter(c)));
        }
        return (new RateUnit(days, exponent, share), rest);
    }

    private static string Without(string text, Match match) => text[..match.Index] + " " + text[(match.Index + match.Length)..];

    private static string Folded(string text)
    {
        StringBuilder plain = new(" ");
        bool isRaised = false;
        foreach (char letter in Identifier.Folded(text).Replace("**", "^", StringComparison.Ordinal))
        {
            int digit = Superscripts.IndexOf(letter, StringComparison.Ordinal);
            bool isSign = letter is '⁻' or '⁺';
            if ((digit >= 0 || isSign) && !isRaised)
                plain.Append('^');
            isRaised = digit >= 0 || isSign;
            if (letter is '×' or '*')
                plain.Append(' ');
            plain.Append(digit >= 0 ? (char)('0' + digit) : letter switch
            {
                '⁻' or '−' or '–' => '-',
                '×' or '*' => 'x',
                '⁺' or '·' or '(' or ')' or '[' or ']' or ',' or ';' => ' ',
                _ => letter,
            });
        }
        return plain.Append(' ').ToString();
    }

    [GeneratedRegex(@"[ /]x? ?(10 ?\^ ?(?<caret>-?\d{1,2})|10 ?(?<minus>-\d{1,2})|1?e(?<short>-\d{1,2}))[^\d]",
        RegexOptions.CultureInvariant | RegexOptions.NonBacktracking | RegexOptions.ExplicitCapture)]
    private static partial Regex Power();

    // x 1000
    [GeneratedRegex(@"[^a-z]x *1(?<zeros>0{1,6})[^\d^]", RegexOptions.CultureInvariant | RegexOptions.NonBacktracking
        | RegexOptions.ExplicitCapture)]
    private static partial Regex Times();

    [GeneratedRegex(@"%|‰|[^a-z]mg ?(/ ?g|g ?\^?-1)", RegexOptions.CultureInvariant | RegexOptions.NonBacktracking
        | RegexOptions.ExplicitCapture)]
    private static partial Regex Part();

    [GeneratedRegex(@"(([^a-z](per|pro|par|por|al|je)|/) *((?<n>\d{1,4}) ?)?(" + DayWords + @")[^a-z])"
        + @"|([^a-z]((?<m>\d{1,4}) ?)?(" + DayWords + @") *\^?-1[^\d])",
        RegexOptions.CultureInvariant | RegexOptions.NonBacktracking | RegexOptions.ExplicitCapture)]
    private static partial Regex Time();
}
