using System.IO.Compression;
using System.Text;

namespace DecayAtlas.Contributions.Tests;

/// <summary>A private copy of the schema's example contribution that a test may spoil.</summary>
internal sealed class Example : IDisposable
{
    public static string Folder { get; } = Path.Combine(AppContext.BaseDirectory, "example");

    /// <summary>The example without weighings: means alone.</summary>
    public static string OfResults { get; } = Path.Combine(AppContext.BaseDirectory, "example-results");

    /// <summary>The day on which checks of tests are made.</summary>
    public static DateOnly Today { get; } = new(2026, 6, 1);

    public Example(string name = "group-a", string? from = null)
    {
        Root = Directory.CreateTempSubdirectory("contributions-").FullName;
        Inbox = Path.Combine(Root, "inbox");
        Copy = Path.Combine(Inbox, name);
        Directory.CreateDirectory(Copy);
        foreach (string file in Directory.GetFiles(from ?? Folder))
            File.Copy(file, Path.Combine(Copy, Path.GetFileName(file)));
    }

    public string Root { get; }

    public string Inbox { get; }

    public string Copy { get; }

    public string Atlas => Path.Combine(Root, "atlas");

    public string FileAt(string name) => Path.Combine(Copy, name);

    public Example Replace(string file, string old, string @new)
    {
        string text = File.ReadAllText(FileAt(file));
        Assert.Contains(old, text, StringComparison.Ordinal);
        File.WriteAllText(FileAt(file), text.Replace(old, @new, StringComparison.Ordinal), new UTF8Encoding(false));
        return this;
    }

    public ReadResult Read(IntakeLimits? limits = null) => ContributionReader.Read(Copy, limits ?? IntakeLimits.Default);

    /// <summary>The only finding of the spoilt copy.</summary>
    public Finding OnlyFinding(IntakeLimits? limits = null)
    {
        ReadResult result = Read(limits);
        Assert.Null(result.Contribution);
        return Assert.Single(result.Findings);
    }

    public string Zip(string name = "group-a.zip")
    {
        string zip = Path.Combine(Root, name);
        ZipFile.CreateFromDirectory(Copy, zip);
        return zip;
    }

    public void Dispose() => Directory.Delete(Root, recursive: true);
}

internal static class ExampleWarnings
{
    /// <summary>Without what is told of the example's bag that had roots in it.</summary>
    public static IReadOnlyList<Finding> OtherWarnings(this ReadResult result) =>
        [.. result.Warnings.Where(warning => warning.Code != FindingCode.DamagedBag)];
}
