using System.Collections.Frozen;

namespace DecayAtlas.Atlas.Schema;

/// <summary>
/// With which decimals the numbers of a table go out for people, by the names of its columns: a standard error (a token u, se, sd, error
/// or cov in its name) with two significant digits; a value beside which its error u or se stands, to the same decimal; a value with a
/// 95 % interval and the ends of that interval, to the decimal of the second digit of a quarter of its width; a mean beside which only
/// the scatter sd stands, to one decimal more; a coordinate to six decimals; all else with seven significant digits, more than a
/// balance or a grid gives.
/// </summary>
internal sealed class ColumnDigits
{
    private const int Coordinate = 6, MostDecimals = 15;

    /// <summary>Numbers of 95 % intervals that are as wide as so many standard errors.</summary>
    private const double Width = 4;

    private static readonly FrozenSet<string> OfErrors = FrozenSet.ToFrozenSet(["u", "se", "sd", "error", "cov"], StringComparer.Ordinal);

    private readonly Rule[] _rules;

    public ColumnDigits(IReadOnlyList<ColumnInfo> columns)
    {
        Dictionary<string, int> at = columns.Index().Where(c => c.Item.Type == "number").ToDictionary(c => c.Item.Name, c => c.Index);
        _rules = [.. columns.Select(c => c.Type == "number" ? RuleOf(c.Name, at) : new Rule(Kind.Plain))];
    }

    private enum Kind
    {
        Plain,
        Coordinate,
        Error,
        ByError,
        ByInterval,
        ByScatter,
    }

    private readonly record struct Rule(Kind Kind, int First = -1, int Second = -1);

    /// <param name="other">A number of the same row by its column; missing is null.</param>
    /// <returns>Decimals, below 0 for tens and hundreds; <see langword="null"/> for seven significant digits.</returns>
    public int? DecimalsOf(int column, double value, Func<int, double?> other)
    {
        Rule rule = _rules[column];
        return rule.Kind switch
        {
            Kind.Coordinate => Coordinate,
            Kind.Error => Second(value),
            Kind.ByError => Second(other(rule.First)),
            Kind.ByInterval => Second((other(rule.Second) - other(rule.First)) / Width),
            Kind.ByScatter => Second(other(rule.First)) + 1,
            _ => null,
        };
    }

    /// <summary>The number as text, invariant, never in powers of ten where it has decimals.</summary>
    public static string Text(double value, int? decimals)
    {
        double rounded = Rounded(value, decimals);
        return decimals is { } d ? rounded.ToString($"F{Math.Clamp(d, 0, MostDecimals)}", InvariantCulture)
            : rounded.ToString("R", InvariantCulture);
    }

    public static double Rounded(double value, int? decimals)
    {
        if (!double.IsFinite(value))
            return value;
        double rounded = decimals switch
        {
            null => double.Parse(value.ToString("G7", InvariantCulture), InvariantCulture),
            >= 0 => Math.Round(value, Math.Min(decimals.Value, MostDecimals)),
            _ => Math.Round(value / Math.Pow(10, -decimals.Value)) * Math.Pow(10, -decimals.Value),
        };
        return rounded == 0 ? 0 : rounded;   // no minus before nothing
    }

    /// <summary>The decimal of the second significant digit of an error.</summary>
    private static int? Second(double? error)
    {
        if (error is not { } e || !double.IsFinite(e) || e == 0)
            return null;
        int decimals = 1 - (int)Math.Floor(Math.Log10(Math.Abs(e)));
        // 0.0996 has its second digit where 0.10 has it
        return Math.Round(Math.Abs(e) * Math.Pow(10, decimals)) >= 100 ? decimals - 1 : decimals;
    }

    private static Rule RuleOf(string name, Dictionary<string, int> at)
    {
        string[] words = name.Split('_');
        if (name is "decimal_latitude" or "decimal_longitude")
            return new Rule(Kind.Coordinate);
        if (words.Any(OfErrors.Contains))
            return new Rule(Kind.Error);
        if (Ends(name, at) is { } own)
            return new Rule(Kind.ByInterval, own.Lower, own.Upper);
        foreach (string error in new[] { "u", "se" })
        {
            if (With(words, error, at) is { } found)
                return new Rule(Kind.ByError, found);
        }

        if (With(words, "lower95", at) is { } lower && With(words, "upper95", at) is { } upper)
            return new Rule(Kind.ByInterval, lower, upper);
        return Array.IndexOf(words, "mean") is >= 0 and int mean
            && at.TryGetValue(string.Join('_', [.. words[..mean], "sd", .. words[(mean + 1)..]]), out int scatter)
            ? new Rule(Kind.ByScatter, scatter) : new Rule(Kind.Plain);
    }

    /// <summary>The interval that a column is an end of.</summary>
    private static (int Lower, int Upper)? Ends(string name, Dictionary<string, int> at) =>
        (name.Contains("lower95", StringComparison.Ordinal) || name.Contains("upper95", StringComparison.Ordinal))
        && at.TryGetValue(name.Replace("upper95", "lower95", StringComparison.Ordinal), out int lower)
        && at.TryGetValue(name.Replace("lower95", "upper95", StringComparison.Ordinal), out int upper) ? (lower, upper) : null;

    /// <summary>The column whose name is that of the value with one more word in it; of an interval also without the words mean or
    /// per_day.</summary>
    private static int? With(string[] words, string word, Dictionary<string, int> at)
    {
        string[][] forms = word is "u" or "se" ? [words]
            : [words, [.. words.Where(w => w != "mean")], [.. words.Where(w => w is not ("per" or "day"))]];
        foreach (string[] form in forms)
        {
            for (int i = form.Length; i > 0; i--)
            {
                if (at.TryGetValue(string.Join('_', [.. form[..i], word, .. form[i..]]), out int found))
                    return found;
            }
        }

        return null;
    }
}
