using System.Globalization;
using System.Text.Encodings.Web;
using System.Text.Json;

namespace DecayAtlas.Pages.Scripts;

/// <summary>Data as a script, since a page that was opened from disk may not read files but may load scripts. Angle brackets, quotes and
/// line separators are escaped, so that no value can end the script.</summary>
internal static class Script
{
    private static readonly JsonSerializerOptions Options = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        Encoder = JavaScriptEncoder.Default
    };

    public static string Assign(string name, object value) => $"window.{name} = {Json(value)};\n";

    /// <summary>A script that hands a value to a function that waits for it.</summary>
    public static string Call(string function, params object[] values) => $"{function}({string.Join(", ", values.Select(Json))});\n";

    /// <summary>A number to six significant digits, which is more than a bag is known to.</summary>
    public static double? Short(double? value) => value is { } x && double.IsFinite(x)
        ? double.Parse(x.ToString("G6", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture) : null;

    private static string Json(object value) => JsonSerializer.Serialize(value, Options);
}
