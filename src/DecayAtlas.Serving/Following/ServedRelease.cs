namespace DecayAtlas.Serving.Following;

/// <summary>One release as it is served: a state that does not change while requests read it.</summary>
/// <exception cref="AtlasException">A table can't be read.</exception>
public sealed class ServedRelease(AtlasFolder atlas, ReleaseName name)
{
    public ReleaseName Name => name;

    public string Folder { get; } = atlas.FolderOf(name);

    internal ReleaseFeatures Features { get; } = new(atlas, name);
}
