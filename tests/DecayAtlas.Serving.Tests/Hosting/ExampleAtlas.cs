using System.Security.Cryptography;

namespace DecayAtlas.Serving.Tests.Hosting;

/// <summary>The atlas that a run makes of the schema's own example, with pages, and a file whose bytes are known; it goes away after the
/// tests.</summary>
public sealed class ExampleAtlas : IDisposable
{
    /// <summary>A file of 10000 bytes, the length that the examples of RFC 9110 speak of.</summary>
    public const string KnownFile = "known/known=10000.bin";

    public ExampleAtlas()
    {
        Publish("first");
        AddKnownFile();
    }

    public string Folder { get; } = Directory.CreateTempSubdirectory("decayatlas-served-").FullName;

    internal AtlasFolder Atlas => new(Path.Combine(Folder, "atlas"));

    internal ReleaseName Release => Atlas.CurrentRelease()!;

    public static byte[] Known { get; } = [.. Enumerable.Range(0, 10000).Select(i => (byte)(i % 251))];

    /// <summary>Publishes a release under a title, which gives it an id of its own, and makes its pages.</summary>
    internal PipelineConfiguration Publish(string title, string last = "all")
    {
        string file = Path.Combine(Folder, "p.yaml");
        File.WriteAllText(
            file, $"version: 1\natlas: atlas\ninbox: {Path.Combine(ProjectRoot(), "schemas", "v1")}\nrelease: {{ title: {title} "
            + $"}}\npages: {{ title: {title} }}\n");
        PipelineConfiguration configuration = ConfigurationReader.Read(file);
        Flow.Execute(configuration, new Nobody(), last);
        return configuration;
    }

    public void Dispose() => Directory.Delete(Folder, recursive: true);

    private void AddKnownFile()
    {
        string path = Path.Combine(Atlas.FolderOf(Release), KnownFile);
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        File.WriteAllBytes(path, Known);
        File.AppendAllText(
            Path.Combine(Atlas.FolderOf(Release),
                ReleaseWriter.ChecksumsName), $"{Convert.ToHexStringLower(SHA256.HashData(Known))}  {KnownFile}\n");
    }

    private static string ProjectRoot()
    {
        DirectoryInfo folder = new(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder.FullName, "DecayAtlas.sln")))
            folder = folder.Parent!;
        return folder.FullName;
    }

    private sealed class Nobody : IRunObserver
    {
        public void StageStarted(string stage) { }

        public void StageProgressed(string stage, string what, int done, int of) { }

        public void StageFinished(string stage, string sentence) { }
    }
}
