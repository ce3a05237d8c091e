namespace DecayAtlas.Text.Tests;

/// <summary>A folder of its own for one test, gone afterwards.</summary>
public sealed class TestFolder : IDisposable
{
    public TestFolder() => Root = Directory.CreateTempSubdirectory("decayatlas-text-").FullName;

    public string Root { get; }

    public string Write(string name, string content)
    {
        string path = Path.Combine(Root, name);
        File.WriteAllText(path, content);
        return path;
    }

    public void Dispose() => Directory.Delete(Root, recursive: true);
}
