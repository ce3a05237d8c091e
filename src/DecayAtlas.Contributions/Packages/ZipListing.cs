using System.IO.Compression;

namespace DecayAtlas.Contributions.Packages;

/// <summary>Lists a received zip. Nothing is ever unpacked to disk, so a path in it cannot write anywhere; a bad one is still
/// told.</summary>
internal static class ZipListing
{
    private const int UnixTypeMask = 0xF000;
    private const int UnixLink = 0xA000;

    public static Package List(string zipPath, ReceivedFiles received, FindingList findings)
    {
        string name = Path.GetFileName(zipPath);
        ZipArchive? archive = null;
        List<PackageFile> files = [];
        try
        {
            archive = new ZipArchive(received.Add(name, new FileInfo(zipPath)).Open(), ZipArchiveMode.Read);
            HashSet<string> seen = new(StringComparer.OrdinalIgnoreCase);
            foreach (ZipArchiveEntry entry in archive.Entries)
            {
                string path = entry.FullName;
                if (PackagePath.WhyUnsafe(path) is { } why)
                {
                    findings.Add(FindingCode.PathUnsafe, name, $"an entry {FindingText.Quote(path)}, {why}",
                        "paths that stay inside the contribution", "make the zip again from the files themselves");
                    continue;
                }
                if (path.EndsWith('/') || Package.IsLeftover(path))
                    continue;
                if (((entry.ExternalAttributes >> 16) & UnixTypeMask) == UnixLink)
                {
                    findings.Add(FindingCode.LinkNotAllowed, path, "a link to another place", "a plain file",
                        "put the file itself into the zip instead of a link to it");
                }
                else if (entry.IsEncrypted)
                {
                    findings.Add(FindingCode.ZipEncrypted, path, "an encrypted entry", "a zip without a password",
                        "make the zip again without a password");
                }
                else if (!seen.Add(path))
                {
                    findings.Add(FindingCode.PathRepeated, path, "two entries with this name (capitals aside)", "each file once",
                        "make the zip again with one file of this name");
                }
                else
                {
                    files.Add(new PackageFile(path, entry.Open, entry.Length, new PackedEntry(entry.CompressedLength, entry.Crc32)));
                }
            }
        }
        catch (Exception fault) when (IsBroken(fault))
        {
            findings.Add(Broken(name));
        }
        catch (UnauthorizedAccessException)
        {
            findings.Add(FolderListing.Unreadable(name));
        }
        return new Package(zipPath, WithoutOuterFolder(files), archive);
    }

    /// <summary>What the zip reader throws at damaged bytes.</summary>
    public static bool IsBroken(Exception fault) =>
        fault is InvalidDataException or IOException or NotSupportedException or ArgumentException or OverflowException;

    public static Finding Broken(string file) => new(FindingCode.ZipBroken, file, "a zip that is cut off or damaged", "a whole zip",
        "make the zip again and send it once more");

    // Zipping a folder often puts the folder's name before every path; the contribution begins below it.
    private static List<PackageFile> WithoutOuterFolder(List<PackageFile> files)
    {
        if (files.Count > 0 && files[0].Path.IndexOf('/', StringComparison.Ordinal) is > 0 and int slash)
        {
            string outer = files[0].Path[..(slash + 1)];
            if (files.All(file => file.Path.StartsWith(outer, StringComparison.Ordinal))
                && files.Exists(file => file.Path == outer + SchemaCatalogue.DescriptorName))
            {
                files = files.ConvertAll(file => file with { Path = file.Path[outer.Length..] });
            }
        }
        files.Sort((a, b) => string.CompareOrdinal(a.Path, b.Path));
        return files;
    }
}
