using System.Globalization;
using System.Reflection;
using System.Text.Json;
using System.Text.RegularExpressions;

namespace DecayAtlas.Text.Languages;

/// <summary>The texts of one language by key, with holes {0}, {1}, ..., and how it writes numbers and days.</summary>
public partial class Phrases
{
    private readonly Dictionary<string, string> _texts;

    /// <param name="code">BCP 47 code, as <c>de</c>.</param>
    /// <param name="sources">Texts by key, each key in one of them.</param>
    public Phrases(string code, params IEnumerable<IReadOnlyDictionary<string, string>> sources) =>
        (Code, _texts) = (code, sources.SelectMany(source => source).ToDictionary());

    public string Code { get; }

    /// <summary>Its own name for itself.</summary>
    public string Name => this["language.name"];

    /// <summary>Every text, for tests that hold languages against each other and for what speaks in a browser.</summary>
    public IReadOnlyDictionary<string, string> All => _texts;

    public string this[string key] => _texts.TryGetValue(key, out string? text) ? text
        : throw new KeyNotFoundException($"The language {Code} has no text {key}.");

    /// <summary>A text that a language may lack; <see langword="null"/> where it does.</summary>
    public string? FindText(string key) => _texts.GetValueOrDefault(key);

    /// <summary>A text with its holes {0}, {1}, ... filled. Where the first value is a count of one, the text of the key with
    /// <c>.one</c> behind it, if the language has that.</summary>
    public string Say(string key, params object?[] values) => Filled(TextFor(key, values), values);

    public string Missing => this["missing"];

    /// <summary>A colon with the spaces that the language has round it.</summary>
    public string Colon => this["colon"];

    /// <summary>The size of a file.</summary>
    public string Size(long bytes) => bytes < 1_000_000 ? Say("size.kilo", Number(Math.Max(1, Math.Round(bytes / 1e3)), "0"))
        : bytes < 1_000_000_000 ? Say("size.mega", Number(bytes / 1e6, "0.0")) : Say("size.giga", Number(bytes / 1e9, "0.0"));

    /// <summary>A count, thousands set apart.</summary>
    public string Count(int n) =>
        n.ToString("#,##0", CultureInfo.InvariantCulture).Replace(",", this["number.thousands"], StringComparison.Ordinal);

    /// <summary>A number in a format such as <c>0.000</c>; what rounds to nothing has no side.</summary>
    public string Number(double? value, string format)
    {
        if (value is not { } x || !double.IsFinite(x))
            return Missing;
        string number = x.ToString(format, CultureInfo.InvariantCulture);
        return Localise(number.AsSpan().IndexOfAnyInRange('1', '9') < 0 ? number.TrimStart('-') : number);
    }

    /// <summary>A number as a spreadsheet holds it, with the decimal sign of the language.</summary>
    public string Written(string invariantNumber) => invariantNumber.Replace(".", this["number.decimal"], StringComparison.Ordinal);

    /// <summary>A number to three significant digits.</summary>
    public string Number(double? value)
    {
        if (value is not { } x || !double.IsFinite(x))
            return Missing;
        if (x == 0)
            return "0";
        int digits = Math.Clamp(2 - (int)Math.Floor(Math.Log10(Math.Abs(x))), 0, 12);
        return Localise(Math.Round(x, digits).ToString("0." + new string('#', digits), CultureInfo.InvariantCulture));
    }

    /// <summary>A rate (d⁻¹) to four decimals.</summary>
    public string Rate(double? perDay) => Number(perDay, "0.0000");

    public string Percent(double? share) => share is null ? Missing : Number(100 * share, "0") + this["number.percent"];

    /// <summary>A day as people write it: 15 de abril de 2026.</summary>
    public string Day(DateOnly? day) => day is not { } on ? Missing
        : Say("day", on.Day, this["month." + on.Month.ToString(CultureInfo.InvariantCulture)],
            on.Year.ToString(CultureInfo.InvariantCulture));

    /// <summary>A day as its spreadsheets show it: 15/04/2026.</summary>
    public string ShortDay(DateOnly day) => Say("number.day",
        day.ToString("dd", CultureInfo.InvariantCulture), day.ToString("MM", CultureInfo.InvariantCulture),
        day.ToString("yyyy", CultureInfo.InvariantCulture));

    /// <summary>A sentence of ours with the days that stand in it as ISO 8601 writes them, as people write them.</summary>
    public string WithDays(string sentence) => IsoDay().Replace(sentence, found => DateOnly.TryParseExact(
        found.Value, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day) ? Day(day) : found.Value);

    /// <summary>Codes of the languages of an assembly, which embeds a <c>folder/code.json</c> for each, in ordinal order.</summary>
    public static IReadOnlyList<string> CodesIn(Assembly assembly, string folder) =>
    [
        .. assembly.GetManifestResourceNames().Where(name => name.StartsWith(folder + "/", StringComparison.Ordinal))
            .Select(name => Path.GetFileNameWithoutExtension(name)).Order(StringComparer.Ordinal),
    ];

    /// <summary>The texts that an assembly embeds for a language; <see langword="null"/> where it has none.</summary>
    public static IReadOnlyDictionary<string, string>? In(Assembly assembly, string folder, string code)
    {
        using Stream? stream = assembly.GetManifestResourceStream($"{folder}/{code}.json");
        return stream is null ? null : JsonSerializer.Deserialize<Dictionary<string, string>>(stream, JsonSerializerOptions.Strict);
    }

    protected string TextFor(string key, object?[] values) =>
        values is [int count, ..] && IsOne(count) && FindText(key + ".one") is { } text ? text : this[key];

    // French counts nothing as one: 0 ligne
    private bool IsOne(int count) => count == 1 || (count == 0 && Code == "fr");

    protected string Filled(string text, object?[] values) =>
        string.Format(CultureInfo.InvariantCulture, text, [.. values.Select(v => v is int n ? Count(n)
            : v is double number ? Number(number, "0.######") : v ?? Missing)]);

    [GeneratedRegex(@"\b[0-9]{4}-[0-9]{2}-[0-9]{2}\b", RegexOptions.NonBacktracking)]
    private static partial Regex IsoDay();

    private string Localise(string invariant) =>
        invariant.Replace("-", "−", StringComparison.Ordinal).Replace(".", this["number.decimal"], StringComparison.Ordinal);
}
