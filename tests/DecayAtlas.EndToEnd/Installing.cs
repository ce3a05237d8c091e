using System.IO.Compression;
using System.Runtime.InteropServices;

namespace DecayAtlas.EndToEnd;

/// <summary>The two ways to install: as a .NET tool, and as one file on a machine without .NET. What is packed is what these tests were
/// built from.</summary>
public sealed class Installing : IDisposable
{
#if DEBUG
    private const string Configuration = "Debug";
#else
    private const string Configuration = "Release";
#endif

    private static readonly string Version = typeof(Cli.CommandLine).Assembly.GetName().Version!.ToString(3);
    private readonly string _folder = Directory.CreateTempSubdirectory("decayatlas-install-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void As_a_tool_of_dotnet_from_a_local_folder_with_licence_and_notices()
    {
        Succeeds("dotnet", "pack", Project.PathOf("src/DecayAtlas.Cli"), "-c", Configuration, "--no-build", "--disable-build-servers",
            "-o", At("packages"));
        RequirePapers(At($"packages/DecayAtlas.{Version}.nupkg"));

        File.WriteAllText(At("nuget.config"),
            """<configuration><packageSources><clear /><add key="local" value="packages" /></packageSources></configuration>""");
        Succeeds("dotnet", "tool", "install", "DecayAtlas", "--version", Version, "--tool-path", At("tool"), "--configfile",
            At("nuget.config"));
        string program = At(OperatingSystem.IsWindows() ? "tool/decayatlas.exe" : "tool/decayatlas");
        Assert.StartsWith(Version, Succeeds(program, "--version"), StringComparison.Ordinal);
        Assert.Contains("is a valid contribution", Succeeds(program, "check", Project.PathOf("schemas/v1/example")),
            StringComparison.Ordinal);
    }

    private static void RequirePapers(string file)
    {
        using ZipArchive package = ZipFile.OpenRead(file);
        string[] files = [.. package.Entries.Select(entry => entry.FullName)];
        Assert.All(["README.md", "LICENSE", "third-party-notices.md"], paper => Assert.Contains(paper, files));
        Assert.Contains(
            files, paper => paper.StartsWith("tools/", StringComparison.Ordinal) && paper.Contains("/notices/", StringComparison.Ordinal));
        using StreamReader nuspec = new(package.GetEntry("DecayAtlas.nuspec")!.Open());
        string text = nuspec.ReadToEnd();
        Assert.Contains("<license type=\"expression\">Apache-2.0</license>", text, StringComparison.Ordinal);
        // nothing of the machine it was made on
        Assert.DoesNotContain(Project.Root, text, StringComparison.Ordinal);
    }

    [Fact]
    public void As_one_file_on_a_machine_without_dotnet()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux() && RuntimeInformation.OSArchitecture == Architecture.X64,
            "the file is built for linux-x64 and has to run here");
        CommandResult published =
            Command.Run(_folder, "dotnet", "publish", Project.PathOf("src/DecayAtlas.Cli"), "-c", Configuration,
                "-p:PublishProfile=linux-x64", "-p:RunAnalyzers=false", "--disable-build-servers", "-o", At("file"));
        Assert.SkipWhen(published.ExitCode != 0 && published.Everything.Contains("NU1301", StringComparison.Ordinal),
            "the runtime packs could not be fetched: no network");
        Assert.True(published.ExitCode == 0, published.Everything);

        // nothing of the runtime or of other libraries lies beside it
        Assert.DoesNotContain(Directory.GetFiles(At("file")), file => Path.GetExtension(file) is ".dll" or ".so" or ".json");
        Assert.StartsWith(Version, SucceedsAlone("--version"), StringComparison.Ordinal);
        Assert.Contains("is a valid contribution", SucceedsAlone("check", Project.PathOf("schemas/v1/example")), StringComparison.Ordinal);
        // a picture takes the native drawing library out of the file
        File.WriteAllText(At("clay.asc"), "ncols 4\nnrows 2\nxllcorner -180\nyllcorner -90\ncellsize 90\n10 20 30 40\n15 25 35 45\n");
        SucceedsAlone("grids", "inspect", "clay.asc", "--crs", "EPSG:4326", "--picture", "clay.png");
        // PNG, third edition, 5.2: the signature of every file
        Assert.Equal([0x89, (byte)'P', (byte)'N', (byte)'G', 0x0D, 0x0A, 0x1A, 0x0A], File.ReadAllBytes(At("clay.png"))[..8]);
    }

    private string At(string name) => Path.Combine(_folder, name);

    private string Succeeds(string program, params string[] args)
    {
        CommandResult result = Command.Run(_folder, program, args);
        Assert.True(result.ExitCode == 0, $"{program} {string.Join(' ', args)}: {result.Everything}");
        return result.Output;
    }

    /// <summary>Runs the one file with an environment that knows of no .NET and no other program.</summary>
    private string SucceedsAlone(params string[] args) =>
        Succeeds("env", ["-i", "PATH=/nonexistent", $"HOME={_folder}", At("file/decayatlas"), .. args]);
}
