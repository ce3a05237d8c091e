namespace DecayAtlas.Contributions.Vocabularies;

/// <summary>A concept of an open vocabulary that comes close to a word of ours (skos:closeMatch).</summary>
/// <param name="Scheme">Name of the vocabulary in schemas/v1/vocabulary.json.</param>
/// <param name="Iri">Missing where the vocabulary has codes alone.</param>
/// <param name="IsFromMemory">Whether nobody looked it up in its vocabulary.</param>
public sealed record OpenConcept(string Scheme, string Code, Uri? Iri, bool IsFromMemory);

/// <summary>A word of the schema.</summary>
/// <param name="CloseMatches">The one to cite first; none for words such as <c>other</c>.</param>
public sealed record OwnWord(
    string Word, string Title, IReadOnlyList<string> OtherSpellings, IReadOnlyList<OpenConcept> CloseMatches)
{
    /// <summary>The first concept with an address, which stands for the word in a release.</summary>
    public string? Iri => CloseMatches.FirstOrDefault(c => c.Iri is not null)?.Iri!.AbsoluteUri;
}
