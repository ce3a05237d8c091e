namespace DecayAtlas.Serving.Following;

/// <summary>One release as it is served: a state that does not change while requests read it.</summary>
public sealed class ServedRelease
{
    /// <exception cref="AtlasException">A table can't be read.</exception>
    public ServedRelease(AtlasFolder atlas, ReleaseName name)
    {
        Name = name;
        Folder = atlas.FolderOf(name);
        Features = new ReleaseFeatures(atlas, name);
    }

    public ReleaseName Name { get; }

    /// <summary>The folder that holds its files.</summary>
    public string Folder { get; }

    internal ReleaseFeatures Features { get; }
}
