using System.Text.Encodings.Web;
using System.Text.Json;

namespace DecayAtlas.Contributions.Receiving;

/// <summary>The small documents that the intake writes beside what it received.</summary>
internal static class IntakeNote
{
    private static readonly JsonSerializerOptions Json = new()
    {
        WriteIndented = true,
        NewLine = "\n",
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        // The notes are read by people too, and never stand inside a web page.
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    public static string Text<T>(T note) => JsonSerializer.Serialize(note, Json) + "\n";

    /// <exception cref="ContributionException">It is not there, or not what was written.</exception>
    public static T Read<T>(string path)
    {
        try
        {
            string note = ContributionException.Guard($"{path} can't be read", () => File.ReadAllText(path));
            return JsonSerializer.Deserialize<T>(note, Json) ?? throw new JsonException("It is null.");
        }
        catch (JsonException fault)
        {
            throw new ContributionException($"{path} cannot be read as the note that the intake wrote there; restore it from a backup, "
                + "or put the contribution into the inbox again and take its folder away.", fault);
        }
    }
}
