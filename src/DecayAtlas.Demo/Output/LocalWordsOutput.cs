using System.Text;

namespace DecayAtlas.Demo.Output;

/// <summary>Words that two groups write in place of ours, and the file in which the curator maps them.</summary>
internal static class LocalWordsOutput
{
    public const string FileName = "vocabulary.yaml";

    private static readonly (string Group, string List, string Ours, string Local)[] Words =
    [
        ("saltmarsh-grazing", "land_use", "pasture", "grazing marsh"),
        ("saltmarsh-grazing", "land_use", "meadow", "Mähwiese"),
        ("saltmarsh-grazing", "management", "organic", "Bio"),
        ("torrel-garden-school", "land_use", "school-ground", "Schulhof"),
        ("torrel-garden-school", "ecosystem", "garden", "jardin"),
    ];

    /// <summary>What a group writes where the schema has a word.</summary>
    public static string Of(string group, string list, string word) =>
        Array.Find(Words, w => w.Group == group && w.List == list && w.Ours == word).Local ?? word;

    public static void Write(string folder)
    {
        StringBuilder text = new("# Words of two groups, each with the word of the schema that stands for it.\nversion: 1\nwords:\n");
        foreach (IGrouping<string, (string, string, string Ours, string Local)> list in Words.GroupBy(w => w.List))
        {
            text.Append($"  {list.Key}:\n");
            foreach ((_, _, string ours, string local) in list)
                text.Append($"    {local}: {ours}\n");
        }

        File.WriteAllText(Path.Combine(folder, FileName), text.ToString(), new UTF8Encoding(false));
    }
}
