using System.Text;

namespace DecayAtlas.Contributions;

/// <summary>Reads a contribution from a folder or a .zip and checks all of it. Whatever is wrong inside becomes a finding.</summary>
public static class ContributionReader
{
    /// <summary>Reads and checks one contribution.</summary>
    /// <param name="path">A folder or a .zip.</param>
    public static ReadResult Read(string path, IntakeLimits limits)
    {
        FindingList findings = new();
        string name = Path.GetFileName(Path.TrimEndingDirectorySeparator(path));
        using Package? package = Open(path, name, findings);
        if (package is null)
            return new ReadResult(null, findings.Close(name), "");
        PackageSurvey survey = PackageSurvey.Of(package, path, limits, findings);
        Contribution? contribution = survey.IsWhole ? ReadTables(package, survey, limits, findings) : null;
        return new ReadResult(findings.Count == 0 ? contribution : null, findings.Close(name), survey.ContentHash);
    }

    internal static Package? Open(string path, string name, FindingList findings)
    {
        if (Directory.Exists(path))
            return FolderListing.List(path, findings);
        if (File.Exists(path) && IsZip(path))
            return ZipListing.List(path, findings);
        findings.Add(File.Exists(path) ? FindingCode.StrayFile : FindingCode.PackageNotFound, name,
            File.Exists(path) ? "a file that is not a contribution" : "nothing at this place", "a folder or a .zip with " + Descriptor.FileName,
            File.Exists(path) ? "send the contribution as a folder or a .zip" : "correct the path");
        return null;
    }

    internal static bool IsZip(string path) => path.EndsWith(".zip", StringComparison.OrdinalIgnoreCase);

    private static Contribution? ReadTables(Package package, PackageSurvey survey, IntakeLimits limits, FindingList findings)
    {
        Descriptor? descriptor = Descriptor.Read(package, survey, findings);
        if (descriptor is null)
            return null;
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
                || package.Find(path) is not { } file || survey.NotText.Contains(path))
                return [];
            using StreamReader text = new(file.Open(), Encoding.UTF8);
            return new TableReader<TRow>(schema, path, toRow, keys, limits, findings).Read(text);
        }
    }
}
