using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Masses;

/// <summary>What texts of a column stand for, in all rows or in one.</summary>
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

    /// <summary>What one cell stands for, whatever the same text means in other rows.</summary>
    public static void SetRow(JsonObject source, string row, string text, string meaning)
    {
        JsonObject rows = source["rows"] as JsonObject ?? [];
        source["rows"] = rows;
        rows[row] = new JsonObject { [text] = meaning };
    }
}
