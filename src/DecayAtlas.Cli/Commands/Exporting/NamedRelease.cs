namespace DecayAtlas.Cli.Commands.Exporting;

/// <summary>A release as it is named on a command line: by its id, or by its folder.</summary>
internal static class NamedRelease
{
    /// <param name="name">The current release where none is named.</param>
    /// <exception cref="AtlasException">There is none yet.</exception>
    /// <exception cref="ConfigurationException">There is none of that name.</exception>
    public static ReleaseName Of(AtlasFolder atlas, string? name)
    {
        if (name is null)
            return atlas.ReleaseToRead();
        IReadOnlyList<ReleaseName> all = atlas.ReleaseNames();
        return all.FirstOrDefault(r => r.Id == name || r.ToString() == name) ?? throw new ConfigurationException(
            $"{atlas.Root} has no release {name}; " + (all.Count == 0 ? "it has none yet."
                : $"expected one of {string.Join(", ", all.TakeLast(10).Select(r => r.Id))}{(all.Count > 10 ? " or an older one" : "")}."));
    }
}
