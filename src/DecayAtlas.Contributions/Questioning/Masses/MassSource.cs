using System.Text.Json.Nodes;

namespace DecayAtlas.Contributions.Questioning.Masses;

/// <summary>The words of a source, one text of the file each.</summary>
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
}
