using System.Collections.Concurrent;

namespace DecayAtlas.Pipeline.Steps;

/// <summary>One covariate of the catalogue with the digest of all that shapes its values: the files' bytes, how they are read and
/// combined.</summary>
internal sealed class GridInput
{
    private readonly IReadOnlyDictionary<string, string> _fingerprints;
    private readonly ConcurrentDictionary<string, string> _layerDigests = new(StringComparer.Ordinal);

    private GridInput(CatalogueEntry entry, IReadOnlyDictionary<string, string> fingerprints)
    {
        (Entry, _fingerprints) = (entry, fingerprints);
        Digest = InputDigest.Of(Parts(entry));
    }

    public CatalogueEntry Entry { get; }

    /// <summary>Changes whenever a value may.</summary>
    public string Digest { get; }

    public static GridInput Of(CatalogueEntry entry, Func<string, string> fingerprintOf) =>
        new(entry, entry.Files.ToDictionary(path => path, path => entry.FingerprintOf(path, fingerprintOf), StringComparer.Ordinal));

    /// <summary>The fingerprints of the files of some layers, each once, joined by a space.</summary>
    public string FingerprintsOf(IEnumerable<LayerSource> layers) =>
        string.Join(' ', layers.Select(l => _fingerprints[l.Path]).Distinct(StringComparer.Ordinal));

    public string AllFingerprints => string.Join(' ', Entry.Files.Select(path => _fingerprints[path]).Distinct(StringComparer.Ordinal));

    /// <summary>Changes whenever a sample of the layer may.</summary>
    public string DigestOf(LayerSource layer) =>
        _layerDigests.GetOrAdd(_fingerprints[layer.Path] + layer.Identity, static text => InputDigest.Of([text]));

    // What a formula makes of its inputs is as good as the inputs: their digests are part of its own.
    private IEnumerable<string> Parts(CatalogueEntry entry) =>
    [
        entry.Name, entry.Unit, entry.IsClass ? "class" : "continuous", entry.Words ?? "", entry.Made.Identity,
        .. entry.Classes?.OrderBy(c => c.Key).Select(c => $"{CatalogueEntry.CodeText(c.Key)} is {c.Value}") ?? [],
        .. entry.Made.Declared.Select(DigestOf),
        .. entry.Made.Inputs.OrderBy(i => i.Key, StringComparer.Ordinal).SelectMany(i => Parts(i.Value).Prepend(i.Key)),
    ];
}
