using System.Globalization;
using System.Reflection;
using System.Runtime.CompilerServices;
using System.Text.Json.Nodes;

namespace DecayAtlas.Text;

/// <summary>
/// Makes a property of an options record a setting of the configuration. Its default is the property's own; the reader, the schema, the
/// check and the documents are made from this declaration alone.
/// </summary>
/// <param name="name">Its name in the configuration; <c>exposure_days/min</c> where it stands in a mapping of its own.</param>
/// <param name="expected">What may be written, as it finishes "expected ...": "grams above 0".</param>
/// <param name="meaning">What it sets, in a sentence without its full stop; empty where what is expected says it.</param>
[AttributeUsage(AttributeTargets.Property)]
public sealed class SettingAttribute(string name, string expected, string meaning = "", [CallerLineNumber] int line = 0) : Attribute
{
    public string Name => name;

    public string Expected => expected;

    public string Meaning => meaning;

    /// <summary>The smallest value.</summary>
    public double Least { get; init; } = double.NegativeInfinity;

    /// <summary>What a value must be above.</summary>
    public double Above { get; init; } = double.NegativeInfinity;

    /// <summary>The largest value.</summary>
    public double Most { get; init; } = double.PositiveInfinity;

    /// <summary>The only values, where there are few.</summary>
    public double[] OneOf { get; init; } = [];

    /// <summary>The only words for a text, or for an item of a list.</summary>
    public string[] Words { get; init; } = [];

    /// <summary>What an item of a list of texts, or each of texts by name, is.</summary>
    public string Item { get; init; } = "";

    /// <summary>How many numbers a list of numbers has.</summary>
    public int Numbers { get; init; }

    /// <summary>Whether its section can't be without it.</summary>
    public bool IsRequired { get; init; }

    /// <summary>Whether it names a file or folder, relative to the configuration.</summary>
    public bool IsPath { get; init; }

    internal int Line => line;
}

/// <summary>One setting of an options record.</summary>
public sealed class DeclaredSetting
{
    private readonly PropertyInfo _property;
    private readonly SettingAttribute _declared;

    private DeclaredSetting(PropertyInfo property, SettingAttribute declared, object? standard) => (_property, _declared, Default) =
        (property, declared,
            declared.IsRequired || standard is "" or LocalText or System.Collections.ICollection { Count: 0 } ? null : standard);

    public string Name => _declared.Name;

    public string PropertyName => _property.Name;

    public string Expected => _declared.Expected;

    public string Meaning => _declared.Meaning;

    /// <summary>Two numbers that belong together: who gives one gives both.</summary>
    public bool IsRequired => _declared.IsRequired || Name.EndsWith("/min", StringComparison.Ordinal)
        || Name.EndsWith("/max", StringComparison.Ordinal);

    public bool IsPath => _declared.IsPath;

    /// <summary>Its value where the configuration says nothing; <see langword="null"/> for none.</summary>
    public object? Default { get; }

    /// <summary>int, long, double, bool, string, DateOnly, a list of texts or numbers, texts by name, or a text by language.</summary>
    public Type Type => Nullable.GetUnderlyingType(_property.PropertyType) ?? _property.PropertyType;

    /// <summary>The settings of an options record in the order in which they are declared.</summary>
    /// <param name="defaults">Holds the default of each.</param>
    public static IReadOnlyList<DeclaredSetting> Of(object defaults) =>
    [
        .. defaults.GetType().GetProperties(BindingFlags.Instance | BindingFlags.Public | BindingFlags.NonPublic)
            .Select(p => (Property: p, Declared: p.GetCustomAttribute<SettingAttribute>()!)).Where(s => s.Declared is not null)
            .OrderBy(s => s.Declared.Line).Select(s => new DeclaredSetting(s.Property, s.Declared, s.Property.GetValue(defaults))),
    ];

    /// <summary>What an options record holds of it.</summary>
    public object? ValueIn(object options) => _property.GetValue(options);

    /// <summary>Sets it in options that nobody else has seen yet.</summary>
    public void SetIn(object options, object value) => _property.SetValue(options, value);

    /// <summary>Whether a number keeps to the bounds; all else does.</summary>
    public bool Accepts(object? value)
    {
        if (value is not (int or long or double))
            return true;
        double number = Convert.ToDouble(value, CultureInfo.InvariantCulture);
        return number >= _declared.Least && number > _declared.Above && number <= _declared.Most
            && (_declared.OneOf.Length == 0 || _declared.OneOf.Contains(number));
    }

    /// <summary>What the JSON Schema of the configuration says of it.</summary>
    public JsonObject ToSchema()
    {
        JsonObject schema = Type == typeof(IReadOnlyList<double>)
            ? new()
            {
                ["type"] = "array",
                ["minItems"] = _declared.Numbers,
                ["maxItems"] = _declared.Numbers,
                ["items"] = new JsonObject { ["type"] = "number" }
            }
            : Type == typeof(IReadOnlyList<string>)
                ? new() { ["type"] = "array", ["minItems"] = 1, ["uniqueItems"] = true, ["items"] = ItemSchema() }
            : Type == typeof(LocalText)
                ? new()
                {
                    ["type"] = new JsonArray("string", "object"),
                    ["minLength"] = 1,
                    ["minProperties"] = 1,
                    ["additionalProperties"] = ItemSchema(),
                }
            : Type == typeof(IReadOnlyDictionary<string, string>)
                ? new() { ["type"] = "object", ["minProperties"] = 1, ["additionalProperties"] = ItemSchema() }
            : _declared.OneOf.Length > 0 ? new() { ["enum"] = new JsonArray([.. _declared.OneOf.Select(v => (JsonNode)v)]) }
            : Type == typeof(string) ? TextSchema()
            : Type == typeof(DateOnly) ? new() { ["type"] = "string", ["pattern"] = "^\\d{4}-\\d{2}-\\d{2}$" }
            : new() { ["type"] = Type == typeof(bool) ? "boolean" : Type == typeof(double) ? "number" : "integer" };
        if (double.IsFinite(_declared.Least))
            schema["minimum"] = _declared.Least;
        if (double.IsFinite(_declared.Above))
            schema["exclusiveMinimum"] = _declared.Above;
        if (double.IsFinite(_declared.Most))
            schema["maximum"] = _declared.Most;
        schema["description"] = Expected;
        if (Default is { } value)
        {
            schema["default"] =
                value switch { string text => text, bool yes => yes, _ => Convert.ToDouble(value, CultureInfo.InvariantCulture) };
        }

        return schema;
    }

    private JsonObject TextSchema() => _declared.Words.Length > 0
        ? new() { ["enum"] = new JsonArray([.. _declared.Words.Select(w => (JsonNode)w)]) }
        : new() { ["type"] = "string", ["minLength"] = 1 };

    private JsonObject ItemSchema()
    {
        JsonObject item = TextSchema();
        item["description"] = _declared.Item;
        return item;
    }
}
