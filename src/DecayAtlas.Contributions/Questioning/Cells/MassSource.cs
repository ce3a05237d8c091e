using System.Globalization;
using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Cells;

/// <summary>What texts of a column of masses stand for, and what is uncertain of them.</summary>
internal static class MassSource
{
    public static void AddWords(JsonObject source, IReadOnlyList<(string Word, string Meaning)> words)
    {
        JsonObject map = source["words"] as JsonObject ?? [];
        foreach ((string word, string meaning) in words)
            map[word] = meaning;
        if (map.Count > 0)
            source["words"] = map;
    }

    /// <summary>A further standard uncertainty of a mass, beside one that may be there.</summary>
    /// <param name="more">A value, or one for each word of a column.</param>
    public static void AddUncertainty(JsonObject bags, string field, JsonObject more)
    {
        if (bags[field] is not JsonObject known)
            bags[field] = more;
        else if (more["value"] is { } same)
            bags[field] = Mapped(known, text => Root(text, (string)same!));
        else if (known["value"] is { } value)
            bags[field] = Mapped(more, text => Root(text, (string)value!));
    }

    public static string Text(double number) => number.ToString("0.######", CultureInfo.InvariantCulture);

    private static JsonObject Mapped(JsonObject source, Func<string, string> of)
    {
        JsonObject made = (JsonObject)source.DeepClone();
        if (made["value"] is { } value)
            made["value"] = of((string)value!);
        foreach ((string word, JsonNode? meaning) in (made["words"] as JsonObject ?? []).ToArray())
            made["words"]![word] = of((string)meaning!);
        return made;
    }

    private static string Root(string one, string other)
    {
        double a = double.Parse(one, CultureInfo.InvariantCulture), b = double.Parse(other, CultureInfo.InvariantCulture);
        return Text(Math.Sqrt(a * a + b * b));
    }
}
