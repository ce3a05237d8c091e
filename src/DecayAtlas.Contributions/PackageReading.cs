using System.Text;

namespace DecayAtlas.Contributions;

/// <summary>
/// A contribution while it is read. First everything is listed, hashed and checked for size and encoding, so that
/// content that is already known needs no more; only then, when asked, are the tables parsed.
/// </summary>
internal sealed class PackageReading : IDisposable
{
    private readonly Package? package;
    private readonly PackageSurvey? survey;
    private readonly IntakeLimits limits;
    private readonly FindingList findings = new();

    private PackageReading(string path, IntakeLimits limits)
    {
        this.limits = limits;
        Name = Path.GetFileName(Path.TrimEndingDirectorySeparator(path));
        if (Directory.Exists(path))
            package = FolderListing.List(path, findings);
        else if (File.Exists(path) && path.EndsWith(".zip", StringComparison.OrdinalIgnoreCase))
            package = ZipListing.List(path, findings);
        else if (File.Exists(path))
            package = Stray(path, findings);
        else
            findings.Add(FindingCode.PackageNotFound, Name, "nothing at this place", "a folder or a .zip with " + Descriptor.FileName, "correct the path");
        IsListedWhole = findings.Count == 0;
        if (package is not null)
            survey = PackageSurvey.Of(package, path, limits, findings);
    }

    public string Name { get; }

    public string ContentHash => survey?.ContentHash ?? "";

    /// <summary>Known once the tables were read and the descriptor was good.</summary>
    public string? ContributionId { get; private set; }

    /// <summary>False when links or other things had to be left out of the list.</summary>
    public bool IsListedWhole { get; }

    /// <summary>False when the package is larger than anything that is kept, or cannot be opened.</summary>
    public bool MayCopy => survey is { TooLarge: false, IsReadable: true };

    private bool IsStray { get; set; }

    /// <exception cref="ContributionException">A file went away while it was read.</exception>
    public static PackageReading Begin(string path, IntakeLimits limits) => Guarded(path, () => new PackageReading(path, limits));

    /// <exception cref="ContributionException">A file went away while it was read.</exception>
    public ReadResult Complete() => Guarded(Name, () =>
    {
        Contribution? contribution = package is { Files.Count: > 0 } && survey is { IsWhole: true } && !IsStray ? ReadTables(package, survey) : null;
        return new ReadResult(findings.Count == 0 ? contribution : null, findings.Close(Name), ContentHash);
    });

    public void Dispose() => package?.Dispose();

    private static T Guarded<T>(string name, Func<T> read)
    {
        try
        {
            return read();
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new ContributionException($"{name} could not be read to its end because {StorageFault.Reason(fault)}; see that nobody changes it and run again.", fault);
        }
    }

    private Package Stray(string path, FindingList list)
    {
        IsStray = true;
        list.Add(FindingCode.StrayFile, Name, "a file that is not a contribution", "a folder or a .zip with " + Descriptor.FileName,
            "send the contribution as a folder or a .zip");
        FileInfo file = new(path);
        return new Package(path, [new PackageFile(Name, () => FolderListing.OpenPlain(file), file.Length, null)], null);
    }

    private Contribution? ReadTables(Package whole, PackageSurvey read)
    {
        Descriptor? descriptor = Descriptor.Read(whole, read, findings);
        if (descriptor is null)
            return null;
        ContributionId = descriptor.Header.ContributionId;
        KeyIndex keys = new();
        return new Contribution(
            descriptor.Header,
            Table(SchemaCatalogue.Sites, RowBuilders.Site(SchemaCatalogue.Sites)),
            Table(SchemaCatalogue.Lots, RowBuilders.Lot(SchemaCatalogue.Lots)),
            Table(SchemaCatalogue.Bags, RowBuilders.Bag(SchemaCatalogue.Bags)),
            Table(SchemaCatalogue.Samples, RowBuilders.Sample(SchemaCatalogue.Samples)));

        IReadOnlyList<TRow> Table<TRow>(TableSchema schema, Func<int, ReadOnlySpan<Cell>, TRow> toRow)
        {
            if (!descriptor.FileByTable.TryGetValue(schema.Name, out string? path)
                || whole.Find(path) is not { } file || read.NotText.Contains(path))
                return [];
            using StreamReader text = new(file.Open(), Encoding.UTF8);
            TableCheck<TRow> table = new(schema, path, toRow, keys, limits, findings);
            TableReader.Read(text, table);
            return table.Rows;
        }
    }
}
