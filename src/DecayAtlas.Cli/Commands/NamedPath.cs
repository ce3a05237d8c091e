namespace DecayAtlas.Cli.Commands;

/// <summary>Paths on the command line that must lead to something.</summary>
internal static class NamedPath
{
    /// <exception cref="ConfigurationException">There is no such file.</exception>
    public static void RequireFile(string path, string what, string remedy = "correct the path")
    {
        if (!File.Exists(path))
            throw new ConfigurationException($"There is no {what} at {path}; {remedy}.");
    }

    /// <exception cref="ConfigurationException">There is neither a file nor a folder.</exception>
    public static void Require(string path, string what)
    {
        if (!Directory.Exists(path))
            RequireFile(path, what);
    }
}
