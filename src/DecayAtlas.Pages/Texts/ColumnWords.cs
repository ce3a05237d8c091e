using System.Text.Json;

namespace DecayAtlas.Pages.Texts;

/// <summary>What tables and columns hold, in the words of a language: <c>Texts/Dictionary/&lt;code&gt;.json</c> gives them by the name of
/// the table, by <c>table.column</c>, and by <c>*.column</c> for a column that is the same in several tables.</summary>
internal sealed class ColumnWords
{
    private readonly Dictionary<string, string> _meanings;

    private ColumnWords(Dictionary<string, string> meanings) => _meanings = meanings;

    /// <summary>The words of a language; empty for English, and for a language that has none.</summary>
    public static ColumnWords Of(Language language)
    {
        using Stream? stream = typeof(ColumnWords).Assembly.GetManifestResourceStream($"dictionary/{language.Code}.json");
        return new ColumnWords(
            stream is null ? [] : JsonSerializer.Deserialize<Dictionary<string, string>>(stream, JsonSerializerOptions.Strict)!);
    }

    /// <summary>Every key, for the test that holds them against the tables.</summary>
    internal IEnumerable<string> Known => _meanings.Keys;

    /// <summary>The key under which a table or column is explained; <see langword="null"/> where it is not.</summary>
    internal string? KeyOf(string table, string? column) =>
        new[] { column is null ? table : $"{table}.{column}", $"*.{column}" }.FirstOrDefault(_meanings.ContainsKey);

    /// <summary>What a table or column holds, in this language, else in English and marked so.</summary>
    public Markup Say(string table, string? column, string english) =>
        KeyOf(table, column) is { } key ? _meanings[key] : Language.English(english);
}
