namespace DecayAtlas.Serving.Following;

/// <summary>Follows an atlas: requests read <see cref="Current"/>, and a new release is loaded beside it and then put in its place, so that
/// a request sees one release from its beginning to its end.</summary>
public sealed class ServedAtlas
{
    private volatile ServedRelease _current;

    /// <exception cref="AtlasException">The atlas has no release, or one that can't be read.</exception>
    public ServedAtlas(string atlas)
    {
        Atlas = new AtlasFolder(atlas);
        _current = new ServedRelease(
            Atlas, Atlas.CurrentRelease()
                ?? throw new AtlasException($"{Atlas.Root} has no release yet; publish one first, for example with: decayatlas run FILE."));
    }

    public AtlasFolder Atlas { get; }

    public ServedRelease Current => _current;

    /// <summary>Takes up a release that was published since.</summary>
    /// <returns>Whether there was one.</returns>
    /// <exception cref="AtlasException">It can't be read; the one before is still served.</exception>
    public bool Follow()
    {
        if (Atlas.CurrentRelease() is not { } newest || newest == _current.Name)
            return false;
        _current = new ServedRelease(Atlas, newest);
        return true;
    }
}
