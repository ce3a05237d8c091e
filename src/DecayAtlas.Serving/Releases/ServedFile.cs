namespace DecayAtlas.Serving.Releases;

/// <summary>One file that may be handed out.</summary>
/// <param name="Sha256">What its list says of its bytes, in hexadecimal.</param>
internal sealed record ServedFile(string FullPath, string Sha256)
{
    public string MediaType { get; } = MediaTypes.Of(FullPath);
}
