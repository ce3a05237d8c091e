namespace DecayAtlas.Text.Documents;

/// <summary>A place in a document as a JSON Pointer has it (RFC 6901).</summary>
public static class JsonPlace
{
    public static string Escaped(string name) =>
        name.Replace("~", "~0", StringComparison.Ordinal).Replace("/", "~1", StringComparison.Ordinal);

    /// <summary>As it is told to a person: sites.decimal_latitude for /sites/decimal_latitude.</summary>
    public static string NameOf(string place) => place[1..].Replace('/', '.');
}
