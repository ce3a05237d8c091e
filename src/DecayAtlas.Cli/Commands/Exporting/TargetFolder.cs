namespace DecayAtlas.Cli.Commands.Exporting;

/// <summary>The folder that files of a release are written to.</summary>
internal static class TargetFolder
{
    /// <summary>Makes the folder where it is not there, and the files in it.</summary>
    /// <param name="to">What stands behind <c>--to</c>.</param>
    /// <param name="usual">The folder where nothing does.</param>
    /// <param name="write">Given the folder, and whom to tell how far it is.</param>
    /// <exception cref="ConfigurationException">A file stands where the folder should.</exception>
    public static (string Folder, IReadOnlyList<ExportedFile> Files) Fill(Screen screen, string stage, bool isForMachines, string? to,
        string usual, Func<string, Action<string, int, int>, IReadOnlyList<ExportedFile>> write)
    {
        string folder = Path.GetFullPath(to ?? usual);
        if (File.Exists(folder))
            throw new ConfigurationException($"--to leads to the file {folder}; name a folder.");
        IReadOnlyList<ExportedFile> files = [];
        DurableFile.Guard(folder, () =>
        {
            Directory.CreateDirectory(folder);
            files = screen.Working(stage, isForMachines, progress => write(folder, progress));
        });
        return (folder, files);
    }

    public static void Tell(Screen screen, IReadOnlyList<ExportedFile> files) =>
        screen.Table(["file", "MB"], files.Select(f => new[] { f.Path, FormattableString.Invariant($"{f.Bytes / 1e6:0.000}") }));
}
