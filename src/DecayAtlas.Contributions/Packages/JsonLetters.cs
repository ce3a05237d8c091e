using System.Text.Json;

namespace DecayAtlas.Contributions.Packages;

/// <summary>
/// Finds half letters in JSON. The escape \ud800 without its other half is well-formed JSON and no text: the document opens, and only
/// whoever asks for the value or looks past the key learns of it, by an exception.
/// </summary>
internal static class JsonLetters
{
    /// <exception cref="JsonException">It is not JSON.</exception>
    public static void Check(ReadOnlySpan<byte> json, string file, FindingList findings)
    {
        Utf8JsonReader reader = new(json);
        List<(string? Name, int Index)> levels = [];
        while (reader.Read())
        {
            switch (reader.TokenType)
            {
                case JsonTokenType.PropertyName:
                    string? name = TextOf(ref reader);
                    if (name is null)
                        Tell(json, reader.TokenStartIndex, "the name of a property", levels.Count - 1);
                    levels[^1] = (name ?? "?", -1);
                    break;
                case JsonTokenType.EndObject or JsonTokenType.EndArray:
                    levels.RemoveAt(levels.Count - 1);
                    break;
                default:
                    if (levels.Count > 0 && levels[^1] is { Name: null, Index: var index })
                        levels[^1] = (null, index + 1);
                    if (reader.TokenType == JsonTokenType.String && TextOf(ref reader) is null)
                        Tell(json, reader.TokenStartIndex, "a text", levels.Count);
                    if (reader.TokenType is JsonTokenType.StartObject or JsonTokenType.StartArray)
                        levels.Add((reader.TokenType == JsonTokenType.StartObject ? "" : null, -1));
                    break;
            }
        }

        void Tell(ReadOnlySpan<byte> text, long at, string what, int depth) => findings.Add(Broken(what) with
        {
            File = file,
            Row = text[..(int)at].Count((byte)'\n') + 1,
            Column = string.Concat(levels.Take(depth)
                .Select(level => "/" + (level.Name is null ? Invariant($"{level.Index}") : JsonPlace.Escaped(level.Name)))),
        });
    }

    /// <summary>The finding about a half letter, without its place.</summary>
    public static Finding Broken(string what) => new(FindingCode.HalfLetter, $"{what} with half a letter in it", "text of whole letters",
        "write the text again: the program that made the file cut a letter in two");

    private static string? TextOf(ref Utf8JsonReader reader)
    {
        try
        {
            return reader.GetString() is { } text && !HalfLetter.IsIn(text) ? text : null;
        }
        catch (InvalidOperationException)
        {
            return null;   // the library's answer to a half letter
        }
    }
}
