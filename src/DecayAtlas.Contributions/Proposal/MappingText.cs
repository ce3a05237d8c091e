using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Unicode;

namespace DecayAtlas.Contributions.Proposal;

internal static class MappingText
{
    // A JSON string is a YAML string in double quotes, and every letter stays readable.
    private static readonly JsonSerializerOptions Readable = new() { Encoder = JavaScriptEncoder.Create(UnicodeRanges.All) };

    public static string Quote(string text) => JsonSerializer.Serialize(text, Readable).Replace("\\u0027", "'", StringComparison.Ordinal);

    /// <summary>Text within a remark: one line, short, and never the start of something else.</summary>
    public static string Remark(string text) => FindingText.Quote(text.Trim());
}
