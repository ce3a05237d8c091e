using System.Globalization;
using System.Text.Json;

namespace DecayAtlas.Pages.Texts;

/// <summary>The words of one language, from <c>Texts/&lt;code&gt;.json</c>, and how it writes numbers and days. A new language is one new
/// file; a test sees that it has every text with the same holes.</summary>
public sealed class Language
{
    private readonly Dictionary<string, string> _texts;

    private Language(string code, Dictionary<string, string> texts) => (Code, _texts) = (code, texts);

    /// <summary>BCP 47 code, as <c>de</c>.</summary>
    public string Code { get; }

    /// <summary>Its own name for itself.</summary>
    public string Name => this["language.name"];

    /// <summary>Codes of the languages that are shipped, in ordinal order.</summary>
    public static IReadOnlyList<string> Known { get; } =
    [
        .. typeof(Language).Assembly.GetManifestResourceNames()
            .Where(n => n.StartsWith("texts/", StringComparison.Ordinal)).Select(n => Path.GetFileNameWithoutExtension(n))
            .Order(StringComparer.Ordinal),
    ];

    public static Language? Find(string code)
    {
        using Stream? stream = typeof(Language).Assembly.GetManifestResourceStream($"texts/{code}.json");
        return stream is null
            ? null
            : new Language(code, JsonSerializer.Deserialize<Dictionary<string, string>>(stream, JsonSerializerOptions.Strict)!);
    }

    /// <summary>Every key, for the test that holds languages against each other.</summary>
    internal IReadOnlyDictionary<string, string> All => _texts;

    public string this[string key] => _texts.TryGetValue(key, out string? text) ? text
        : throw new KeyNotFoundException($"The language {Code} has no text {key}.");

    /// <summary>A text that a language may lack; <see langword="null"/> where it does.</summary>
    public string? FindText(string key) => _texts.GetValueOrDefault(key);

    /// <summary>A text with its holes {0}, {1}, ... filled.</summary>
    public string Say(string key, params object?[] values) => Filled(this[key], values);

    /// <summary>A text whose pieces between asterisks are slanted, for letters that stand for quantities.</summary>
    public Markup Rich(string key, params object?[] values) => Markup.Of($"{this[key].Split('*').Select(p => Filled(p, values))
        .Select((piece, i) => i % 2 == 0 ? piece : Markup.Of($"<i>{piece}</i>"))}");

    /// <summary>Several such texts, as the head of a table.</summary>
    public Markup[] Texts(params string[] keys) => [.. keys.Select(key => Rich(key))];

    /// <summary>The word for a code of the tables (accepted, rejected, ...); the code itself where there is none.</summary>
    public string Word(string? code) => code is null ? Missing : _texts.GetValueOrDefault("word." + code, code);

    /// <summary>A unit of the tables as people write it; the code itself where there is no word for it.</summary>
    public string Unit(string? code) => code is null or "1" ? "" : _texts.GetValueOrDefault("unit." + code, code);

    /// <summary>What a model's card says in English, in this language where it has words for its code.</summary>
    public string TextOfCard(string? code, string english) => _texts.GetValueOrDefault("card." + code, english);

    /// <summary>The same as a piece, marked as English where this language has no words for it.</summary>
    public Markup OfCard(string? code, string english) =>
        IsTranslation && !_texts.ContainsKey("card." + code) ? English(english) : TextOfCard(code, english);

    /// <summary>The title that a grid catalogue gives a covariate, which is the curator's, in this language where it knows the
    /// words.</summary>
    public string Quoted(string english) => IsTranslation ? _texts.GetValueOrDefault("quoted." + english, english) : english;

    /// <summary>The same as a piece, marked as English where this language does not know the words.</summary>
    public Markup Quote(string english) =>
        IsTranslation && !_texts.ContainsKey("quoted." + english) ? English(english) : Quoted(english);

    /// <summary>English in a page of another language, so that it is read out as such.</summary>
    internal static Markup English(string text) => Markup.Of($"<span lang=\"en\">{text}</span>");

    /// <summary>Whether findings, which are written in English, are of another language than these words.</summary>
    public bool IsTranslation => Code != "en";

    public string Missing => this["missing"];

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

    /// <summary>A day as ISO 8601 writes it, which every language of science reads.</summary>
    public string Day(DateOnly? day) => day is null ? Missing : $"{day:O}";

    private string Filled(string text, object?[] values) =>
        string.Format(CultureInfo.InvariantCulture, text, [.. values.Select(v => v is int n ? Count(n) : v ?? Missing)]);

    private string Localise(string invariant) =>
        invariant.Replace("-", "−", StringComparison.Ordinal).Replace(".", this["number.decimal"], StringComparison.Ordinal);
}
