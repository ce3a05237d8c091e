namespace DecayAtlas.Contributions;

/// <summary>
/// The folders <c>intake</c> and <c>quarantine</c> on disk. Everything is written into a sibling folder whose name
/// begins with a dot, flushed to the disk, and only then renamed to its address: a reader sees all of it or nothing.
/// </summary>
/// <param name="mayWrite">False for a look at an atlas that is not to be written to.</param>
internal sealed class IntakeStore(string atlasFolder, bool mayWrite = true)
{
    private const string TemporaryPrefix = ".incoming-";
    public const string ReceivedName = "received";
    private const string HeaderName = "header.json";
    private const string LateName = "report.md";
    private const string LateToldName = "told";
    private const string RegisterName = "register.txt";
    private const int ContentHashLength = 64;
    private const UnixFileMode OwnerOnly = UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute;

    private readonly string intake = Path.Combine(atlasFolder, "intake");
    private readonly string quarantine = Path.Combine(atlasFolder, "quarantine");
    private Dictionary<string, ContributionHeader>? headerByHash;

    public Quarantine SetAside { get; } = new(Path.Combine(atlasFolder, "quarantine"));

    public void SweepLeftovers()
    {
        if (!mayWrite)
            return;
        foreach (string folder in Folders(intake).Where(IsTemporary))
            TryDelete(folder);
        if (Directory.Exists(intake))
        {
            foreach (string unfinished in Directory.EnumerateFiles(intake, "*" + IntakeNote.UnfinishedSuffix))
                File.Delete(unfinished);
        }
    }

    public IReadOnlyCollection<ContributionHeader> AcceptedHeaders() => Headers().Values;

    public ContributionHeader? FindAccepted(string hash) => Headers().GetValueOrDefault(hash);

    /// <summary>Where the accepted bytes are: the folder, or the zip in it.</summary>
    public string ReceivedPath(string hash)
    {
        string received = Path.Combine(intake, hash, ReceivedName);
        string[] files = Directory.Exists(received) ? Directory.GetFileSystemEntries(received) : [];
        // A zip was kept as it came. A folder that holds nothing but a zip was never accepted, so the two cannot be confused.
        return files is [string only] && only.EndsWith(".zip", StringComparison.OrdinalIgnoreCase) && File.Exists(only) ? only : received;
    }

    /// <summary>Keeps a valid contribution; false when it changed while it was read, and then nothing is kept.</summary>
    /// <param name="late">What its contributor has to know where a higher revision counts; null where it counts itself.</param>
    public bool Accept(string path, PackageReading reading, ContributionHeader header, IntakeLimits limits, string? late = null)
    {
        bool isPlaced = Place(path, reading, Path.Combine(intake, reading.ContentHash), limits, folder =>
        {
            FlushedFile.Write(Path.Combine(folder, HeaderName), IntakeNote.Text(header));
            if (late is not null)
                FlushedFile.Write(Path.Combine(folder, LateName), late);
        });
        if (isPlaced)
        {
            Headers()[header.ContentHash] = header;
            WriteRegister(Headers().Values);
        }

        return isPlaced;
    }

    /// <summary>Sets a contribution aside with its report; false when it changed while it was read, and then nothing is kept.</summary>
    public bool Quarantine(string path, PackageReading reading, QuarantineReport report, IntakeLimits limits) =>
        Place(path, reading, Path.Combine(quarantine, reading.ContentHash), limits, folder =>
        {
            FlushedFile.Write(Path.Combine(folder, QuarantineReport.JsonName), IntakeNote.Text(report));
            FlushedFile.Write(Path.Combine(folder, QuarantineReport.MarkdownName), report.ToMarkdown(reading.MayCopy));
            FlushedFile.Write(Path.Combine(folder, Contributions.Quarantine.ChecksumsName), FolderChecksums.Of(Path.Combine(folder, ReceivedName)));
        });

    private bool Place(string path, PackageReading reading, string target, IntakeLimits limits, Action<string> writeBeside)
    {
        if (reading.ContentHash.Length != ContentHashLength)
            throw new InvalidOperationException("a contribution without a content hash has no address");
        string temporary = Path.Combine(intake, TemporaryPrefix + reading.ContentHash);
        try
        {
            CreatePrivate(intake);
            CreatePrivate(quarantine);
            TryDelete(temporary);
            CreatePrivate(temporary);
            if (reading.MayCopy && !CopyReceived(path, reading, Path.Combine(temporary, ReceivedName), limits))
            {
                TryDelete(temporary);
                return false;
            }
            writeBeside(temporary);
            // A folder without its report or header is what a crash of an older kind left; it has no content of its own.
            TryDelete(target);
            Directory.Move(temporary, target);
            return true;
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            TryDelete(temporary);
            throw new ContributionException($"{reading.Name} could not be kept in {atlasFolder} because {StorageFault.Reason(fault)}; nothing of it was stored, mend that and run again.", fault);
        }
    }

    /// <summary>Copies what was received, and looks whether the copy is what was read.</summary>
    private static bool CopyReceived(string path, PackageReading reading, string received, IntakeLimits limits)
    {
        Directory.CreateDirectory(received);
        string copy = received;
        if (Directory.Exists(path))
        {
            FlushedFile.CopyFolder(path, received);
        }
        else if (reading.TableFiles.Count > 0)
        {
            // Kept side by side in the folder, which then reads as the same contribution with the same hash.
            foreach (string file in reading.TableFiles)
                FlushedFile.Copy(file, Path.Combine(received, Path.GetFileName(file)));
        }
        else
        {
            copy = Path.Combine(received, reading.FileName);
            FlushedFile.Copy(path, copy);
        }
        if (!reading.IsReadWhole)
            return true;
        using PackageReading again = PackageReading.Begin(copy, limits);
        return again.ContentHash == reading.ContentHash;
    }

    /// <summary>Whether a contribution came after a higher revision of it, and nobody was told yet.</summary>
    public bool IsLateNews(string hash) => File.Exists(Path.Combine(intake, hash, LateName)) && !File.Exists(Path.Combine(intake, hash, LateToldName));

    public void MarkLateTold(string hash)
    {
        if (IsLateNews(hash))
            File.WriteAllBytes(Path.Combine(intake, hash, LateToldName), []);
    }

    /// <summary>
    /// The register lists every contribution that was ever accepted. One that it lists and the intake lacks was lost, and must
    /// not quietly be missing from the next release; one that it lacks was accepted by a run that was killed before it could list it.
    /// </summary>
    private void HoldAgainstRegister(Dictionary<string, ContributionHeader> found)
    {
        string register = Path.Combine(intake, RegisterName);
        HashSet<string> listed = File.Exists(register) ? [.. File.ReadLines(register).Where(line => line.Length >= ContentHashLength)] : [];
        foreach (string line in listed)
        {
            string hash = line[..ContentHashLength];
            if (!found.ContainsKey(hash))
                throw new ContributionException($"The accepted contribution {line[ContentHashLength..].Trim()} is missing from {Path.Combine(intake, hash)}; restore that folder from a backup, or, if it was taken out on purpose, take its line out of {register}.");
        }

        if (listed.Count < found.Count && mayWrite)
            WriteRegister(found.Values);
    }

    private void WriteRegister(IEnumerable<ContributionHeader> accepted)
    {
        IntakeNote.Replace(Path.Combine(intake, RegisterName), string.Concat(accepted.OrderBy(h => h.ContentHash, StringComparer.Ordinal)
            .Select(h => FormattableString.Invariant($"{h.ContentHash}  {h.ContributionId} {h.Revision}\n"))));
    }

    private Dictionary<string, ContributionHeader> Headers()
    {
        if (headerByHash is not null)
            return headerByHash;
        Dictionary<string, ContributionHeader> read = new(StringComparer.Ordinal);
        foreach (string folder in Folders(intake).Where(folder => !IsTemporary(folder)))
        {
            string file = Path.Combine(folder, HeaderName);
            if (File.Exists(file))
                read[Path.GetFileName(folder)] = IntakeNote.Read<ContributionHeader>(file);
        }
        HoldAgainstRegister(read);
        return headerByHash = read;
    }

    private static bool IsTemporary(string folder) => Path.GetFileName(folder).StartsWith(TemporaryPrefix, StringComparison.Ordinal);

    private static string[] Folders(string parent)
    {
        try
        {
            return Directory.Exists(parent) ? [.. Directory.EnumerateDirectories(parent).Order(StringComparer.Ordinal)] : [];
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new ContributionException($"{parent} cannot be read; give the user who runs this the right to read it, and run again.", fault);
        }
    }

    private static void CreatePrivate(string folder)
    {
        if (OperatingSystem.IsWindows())
        {
            Directory.CreateDirectory(folder);
            return;
        }
        Directory.CreateDirectory(folder, OwnerOnly);
        if (File.GetUnixFileMode(folder) != OwnerOnly)
            File.SetUnixFileMode(folder, OwnerOnly);
    }

    /// <summary>Deletes a folder if it can be; what stays is swept at the next start.</summary>
    private static void TryDelete(string folder)
    {
        try
        {
            if (Directory.Exists(folder))
                Directory.Delete(folder, recursive: true);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            // Nothing depends on it: the name is never read.
        }
    }
}
