using System.Text;

namespace DecayAtlas.Grids.Formats.Ascii;

internal sealed class AsciiFormat : GridFormat
{
    public override string Article => "an Esri ASCII grid (which starts with the word ncols)";

    public override bool Recognises(ReadOnlySpan<byte> head)
    {
        string start = Encoding.Latin1.GetString(head).TrimStart(' ', '\t', '\r', '\n', '\u00EF', '\u00BB', '\u00BF');
        return AsciiHeader.Keys.Any(key => start.StartsWith(key, StringComparison.OrdinalIgnoreCase)
            && start.Length > key.Length && char.IsWhiteSpace(start[key.Length]));
    }

    public override Grid Open(string path, GridReadOptions options) => AsciiGrid.Open(path, options);

    public override GridDescription Describe(string path) => new("Esri ASCII grid",
    [
        new GridLayer(1, null, null, null, []) { Storage = new("decimal text", "none", null, "rows of text", [], false, false) },
    ]);
}
