namespace DecayAtlas.EndToEnd;

/// <summary>A curator's small atlas: an inbox, a configuration, and runs in this process.</summary>
public abstract class NightWork : IDisposable
{
    protected Workspace Work { get; } = new();

    public void Dispose()
    {
        Work.Dispose();
        GC.SuppressFinalize(this);
    }

    protected void Write(string path, string text)
    {
        Directory.CreateDirectory(Path.GetDirectoryName(Work.PathOf(path))!);
        File.WriteAllText(Work.PathOf(path), text);
    }

    protected void GivenConfiguration(string more = "") => Write("p.yaml", "version: 1\natlas: atlas\ninbox: inbox\n" + more);

    /// <summary>The schema's own example under another name and contributor.</summary>
    protected void GivenContribution(string name, string contributor, int revision = 1, Func<string, string, string>? edit = null)
    {
        foreach (string file in Directory.GetFiles(Project.PathOf("schemas/v1/example")))
        {
            string text = File.ReadAllText(file);
            if (Path.GetFileName(file) == "datapackage.json")
            {
                System.Text.Json.Nodes.JsonNode descriptor = System.Text.Json.Nodes.JsonNode.Parse(text)!;
                (descriptor["name"], descriptor["contributor"], descriptor["revision"]) = (name, contributor, revision);
                text = descriptor.ToJsonString();
            }

            Write($"inbox/{name}-{revision}/{Path.GetFileName(file)}", edit?.Invoke(Path.GetFileName(file), text) ?? text);
        }
    }

    /// <summary>Runs in this process, which spares the start of another.</summary>
    protected (int Code, string Text) Run(params string[] args)
    {
        (StringWriter? output, StringWriter? error) = (new StringWriter(), new StringWriter());
        int code = CommandLine.Run([args[0], Work.PathOf("p.yaml"), .. args[1..]], output, error);
        return (code, output.ToString() + error);
    }

    protected void ExpectRun(int code, string words)
    {
        (int found, string text) = Run("run");
        Assert.True(code == found, $"exit code {found}: {text}");
        Assert.Contains(words, text, StringComparison.Ordinal);
    }

    protected static int FilesIn(string folder)
    {
        try
        {
            return Directory.Exists(folder) ? Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories).Count() : 0;
        }
        catch (IOException)
        {
            return 0;   // a folder was renamed under our eyes
        }
    }

    protected long Count(string table, string where = "true") =>
        (long)Work.Query($"SELECT count(*) FROM read_parquet('atlas/current/{table}/**/*.parquet', hive_partitioning = true) WHERE "
        + $"{where}")[0][0]!;

    /// <summary>The atlas that one run makes of the present inbox and configuration from nothing.</summary>
    protected SortedDictionary<string, string> FromNothing()
    {
        Directory.Move(Work.PathOf("atlas"), Work.PathOf("aside"));
        Run("run");
        SortedDictionary<string, string> bytes = Work.Bytes("atlas/current");
        Directory.Delete(Work.PathOf("atlas"), recursive: true);
        Directory.Move(Work.PathOf("aside"), Work.PathOf("atlas"));
        return bytes;
    }
}
