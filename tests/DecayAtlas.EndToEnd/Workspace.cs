using System.Security.Cryptography;
using System.Text.RegularExpressions;
using DuckDB.NET.Data;

namespace DecayAtlas.EndToEnd;

/// <summary>A folder with the project's pipeline in it, as a fresh clone has, that goes away in the end.</summary>
public sealed partial class Workspace : IDisposable
{
    public Workspace()
    {
        Folder = Directory.CreateTempSubdirectory("decayatlas-run-").FullName;
        Directory.CreateDirectory(PathOf("pipeline"));
        foreach (string file in new[] { "pipeline/demo.yaml", "pipeline/demo.citation.cff" })
            File.Copy(Project.PathOf(file), PathOf(file));
    }

    public string Folder { get; }

    public string PathOf(string relative) => Path.Combine(Folder, relative);

    internal CommandResult DecayAtlas(params string[] args) => Command.DecayAtlas(Folder, args);

    /// <summary>The same in this process, whose code is compiled already: where a process of its own is not what is tested. What is named
    /// like a file, or is where something is written to, is one of this folder.</summary>
    internal CommandResult DecayAtlasHere(params string[] args)
    {
        (StringWriter output, StringWriter error) = (new(), new());
        int code = CommandLine.Run([.. args.Select((arg, i) => IsFile(arg, i == 0 ? "" : args[i - 1]) ? PathOf(arg) : arg)], output, error);
        return new CommandResult(code, output.ToString(), error.ToString());

        // relate goes to a covariate
        bool IsFile(string arg, string before) =>
            NamedFile().IsMatch(arg) || before == "--output" || (before == "--to" && args[0] != "relate");
    }

    [GeneratedRegex(@"/|\.[a-z]+$")]
    private static partial Regex NamedFile();

    /// <summary>Copies all files below a folder.</summary>
    internal static void CopyTree(string from, string to)
    {
        foreach (string file in Directory.GetFiles(from, "*", SearchOption.AllDirectories))
        {
            string target = Path.Combine(to, Path.GetRelativePath(from, file));
            Directory.CreateDirectory(Path.GetDirectoryName(target)!);
            File.Copy(file, target, overwrite: true);
        }
    }

    /// <summary>Whether <see cref="Copy"/> works here.</summary>
    public static bool CanCopy => Command.Has("cp");

    /// <summary>Takes a folder of another workspace as it is, links and all.</summary>
    internal void Copy(Workspace from, string folder)
    {
        CommandResult copied = Command.Run(Folder, "cp", "-a", from.PathOf(folder), ".");
        Assert.True(copied.ExitCode == 0, copied.Everything);
    }

    /// <summary>Every file below the folders with the SHA-256 of its bytes.</summary>
    public SortedDictionary<string, string> Bytes(params string[] folders) => new(
        folders.SelectMany(folder => Directory.EnumerateFiles(PathOf(folder), "*", SearchOption.AllDirectories)).ToDictionary(
            file => Path.GetRelativePath(Folder, file), file => Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(file)))),
        StringComparer.Ordinal);

    /// <summary>Asks DuckDB, from the workspace as working folder.</summary>
    public List<object?[]> Query(string sql)
    {
        using DuckDBConnection connection = new("DataSource=:memory:");
        connection.Open();
        using DuckDBCommand command = connection.CreateCommand();
        command.CommandText = $"SET file_search_path = '{Folder}'; {sql}";
        using DuckDBDataReader reader = command.ExecuteReader();
        List<object?[]> rows = new();
        do
        {
            rows.Clear();
            while (reader.Read())
                rows.Add([.. Enumerable.Range(0, reader.FieldCount).Select(i => reader.IsDBNull(i) ? null : reader.GetValue(i))]);
        }
        while (reader.NextResult());
        return rows;
    }

    public void Dispose() => Directory.Delete(Folder, recursive: true);
}

/// <summary>The demo, run once for all tests that only look at what it left, when the first of them asks.</summary>
public sealed class DemoRun : IDisposable
{
    private readonly Workspace _workspace = new();
    private readonly Lazy<CommandResult> _first;

    public DemoRun() => _first = new(() => _workspace.DecayAtlas("run", "pipeline/demo.yaml"));

    public Workspace Workspace
    {
        get
        {
            _ = First;
            return _workspace;
        }
    }

    internal CommandResult First => _first.Value;

    public void Dispose() => _workspace.Dispose();
}
