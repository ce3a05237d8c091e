namespace DecayAtlas.Grids.Tests;

/// <summary>A folder of its own for one test, gone afterwards.</summary>
public sealed class TestFolder : IDisposable
{
    public TestFolder() => Root = Directory.CreateTempSubdirectory("decayatlas-grids-").FullName;

    public string Root { get; }

    /// <summary>A file that ships with the tests.</summary>
    public static string Data(string name) => Path.Combine(AppContext.BaseDirectory, "data", name);

    public string File(string name) => Path.Combine(Root, name);

    public string Write(string name, string content)
    {
        System.IO.File.WriteAllText(File(name), content);
        return File(name);
    }

    public void Dispose() => Directory.Delete(Root, recursive: true);
}
