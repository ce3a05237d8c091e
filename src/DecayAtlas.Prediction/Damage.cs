using System.Text.Json;

namespace DecayAtlas.Prediction;

/// <summary>What is wrong with a file that cannot be read, in words for people: the innards of the reader stay out of it.</summary>
internal static class Damage
{
    public static string Of(Exception fault) => fault switch
    {
        JsonException { LineNumber: { } line } json =>
            Invariant($"line {line + 1}, byte {(json.BytePositionInLine ?? 0) + 1} is not what was expected there"),
        JsonException => "it is not the JSON that was expected",
        _ => fault.Message.ReplaceLineEndings("\n").Split('\n')[0].TrimEnd('.'),
    };
}
