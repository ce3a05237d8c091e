namespace DecayAtlas.Contributions.Receiving;

/// <summary>
/// The folders <c>intake</c> and <c>quarantine</c> on disk. Everything is written into a sibling folder whose name
/// begins with a dot, flushed to the disk, and only then renamed to its address: a reader sees all of it or nothing.
/// </summary>
internal sealed class IntakeStore(
    string atlasFolder, IntakeLimits limits, bool mayWrite = true, Func<string?, string?, Addressee>? addresseeOf = null)
{
    private const string TemporaryPrefix = ".incoming-";
    public const string ReceivedName = "received";
    private const string HeaderName = "header.json";
    private const string GuessesName = "guesses.json";
    private const string LateName = "report.md";
    private const string LateToldName = "told";
    private const UnixFileMode OwnerOnly = UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute;

    private readonly string _intake = Path.Combine(atlasFolder, "intake");
    private readonly string _quarantine = Path.Combine(atlasFolder, "quarantine");
    private Dictionary<string, ContributionHeader>? _headerByHash;
    private readonly Dictionary<string, List<ContributionHeader>> _revisionsOf = [];
    private readonly IntakeRegister _register = new(Path.Combine(atlasFolder, "intake"));
    private bool _isRegisterBehind;

    public Quarantine SetAside { get; } = new(Path.Combine(atlasFolder, "quarantine"), addresseeOf);

    public void SweepLeftovers()
    {
        if (!mayWrite)
            return;
        foreach (string folder in Folders(_intake).Where(IsTemporary))
            MadeFolder.TryDelete(folder);
        if (Directory.Exists(_intake))
        {
            foreach (string unfinished in Directory.EnumerateFiles(_intake, "*" + DurableFile.UnfinishedSuffix))
                File.Delete(unfinished);
        }
    }

    public IReadOnlyCollection<ContributionHeader> AcceptedHeaders() => Headers().Values;

    public IReadOnlyList<ContributionHeader> AcceptedOf(string contributionId)
    {
        _ = Headers();
        return _revisionsOf.GetValueOrDefault(contributionId, []);
    }

    /// <summary>What was accepted and is gone: its folder, or what was received in it.</summary>
    public IReadOnlyList<LostContribution> Lost()
    {
        Dictionary<string, ContributionHeader> here = Headers();
        return
        [
            .. _register.Lost.Where(lost => !here.ContainsKey(lost.ContentHash)),
            .. here.Values.Where(header => !HoldsReceived(header.ContentHash)).OrderBy(header => header.ContentHash, StringComparer.Ordinal)
                .Select(header => LostContribution.Of(header.ContributionId, header.Revision, header.ContentHash))
                .Select(lost => lost with { Place = lost.Place + "/" + ReceivedName }),
        ];
    }

    private bool HoldsReceived(string hash)
    {
        string received = Path.Combine(_intake, hash, ReceivedName);
        try
        {
            return Directory.Exists(received) && Directory.EnumerateFileSystemEntries(received).Any();
        }
        catch (Exception fault) when (StorageFault.Is(fault))
        {
            return false;
        }
    }

    public ContributionHeader? FindAccepted(string hash) => Headers().GetValueOrDefault(hash);

    /// <summary>Where the accepted bytes are: the folder, or the zip in it.</summary>
    public string ReceivedPath(string hash)
    {
        string received = Path.Combine(_intake, hash, ReceivedName);
        string[] files = Directory.Exists(received) ? Directory.GetFileSystemEntries(received) : [];
        // A zip was kept as it came. A folder that holds nothing but a zip was never accepted, so the two cannot be confused.
        return files is [string only] && only.EndsWith(".zip", StringComparison.OrdinalIgnoreCase) && File.Exists(only) ? only : received;
    }

    /// <summary>Keeps a valid contribution; false when it changed while it was read, and then nothing is kept.</summary>
    /// <param name="late">What its contributor has to know where a higher revision counts; null where it counts itself.</param>
    public bool Accept(string path, PackageReading reading, ContributionHeader header, string? late = null, string? staged = null,
        KeptGuesses? guesses = null)
    {
        bool isPlaced = Place(path, reading, staged, Path.Combine(_intake, reading.ContentHash), folder =>
        {
            DurableFile.CreateText(Path.Combine(folder, HeaderName), IntakeNote.Text(header));
            if (guesses is not null)
                DurableFile.CreateText(Path.Combine(folder, GuessesName), IntakeNote.Text(guesses));
            if (late is not null)
                DurableFile.CreateText(Path.Combine(folder, LateName), late);
        });
        if (isPlaced)
        {
            Headers()[header.ContentHash] = header;
            NoteRevision(header);
            _isRegisterBehind = true;
        }

        return isPlaced;
    }

    /// <summary>What was guessed of an accepted contribution; <see langword="null"/> where nothing was.</summary>
    public KeptGuesses? GuessesOf(string hash) => Path.Combine(_intake, hash, GuessesName) is var file && File.Exists(file)
        ? IntakeNote.Read<KeptGuesses>(file) : null;

    /// <summary>Lists in the register what was accepted since it was last written. A run that is killed before leaves it to the
    /// next.</summary>
    /// <exception cref="ContributionException">The disk refuses.</exception>
    public void SaveRegister()
    {
        if (_isRegisterBehind)
            _register.Write(Headers());
        _isRegisterBehind = false;
    }

    /// <summary>Sets a contribution aside with its report; false when it changed while it was read, and then nothing is kept.</summary>
    /// <param name="check">What a check tells of it.</param>
    public bool Quarantine(string path, PackageReading reading, QuarantineReport report, CheckReport check, string? staged = null) =>
        Place(path, reading, staged, Path.Combine(_quarantine, reading.ContentHash), folder =>
        {
            DurableFile.CreateText(Path.Combine(folder, QuarantineReport.JsonName), IntakeNote.Text(report));
            DurableFile.CreateText(Path.Combine(folder, QuarantineReport.MarkdownName), SetAside.Markdown(report, check, reading.MayCopy));
            DurableFile.CreateText(Path.Combine(folder, Receiving.Quarantine.ChecksumsName),
                FolderChecksums.Of(Path.Combine(folder, ReceivedName)));
        });

    /// <summary>Writes the curator's list of what waits, where there is a quarantine or something to tell.</summary>
    /// <exception cref="ContributionException">The disk refuses.</exception>
    public void WriteWaiting(IReadOnlyList<IntakeResult> open, IReadOnlyList<IntakeResult> notKept)
    {
        string path = Path.Combine(_quarantine, WaitingList.FileName);
        if (open.Count + notKept.Count == 0 && !Directory.Exists(_quarantine))
            return;
        ContributionException.Guard($"{path} could not be written", () =>
        {
            CreatePrivate(_quarantine);
            string text = WaitingList.Of(open, notKept, SetAside.AddresseeOf);
            if (!File.Exists(path) || File.ReadAllText(path) != text)
                DurableFile.WriteText(path, text);
            return true;
        });
    }

    /// <summary>
    /// Copies what was read into a folder of its own, ahead of the decision where it goes, so that several are copied side by side.
    /// <see langword="null"/> where that did not succeed; it is then tried again, and told, when the decision falls.
    /// </summary>
    public string? TryStage(string path, PackageReading reading)
    {
        string temporary = NewTemporary(reading);
        try
        {
            CreatePrivate(_intake);
            CreatePrivate(temporary);
            if (CopyReceived(path, reading, Path.Combine(temporary, ReceivedName)))
                return temporary;
        }
        catch (Exception fault) when (StorageFault.Is(fault) || fault is ContributionException)
        {
            // told by Place
        }
        MadeFolder.TryDelete(temporary);
        return null;
    }

    public static void Unstage(string? staged)
    {
        if (staged is not null)
            MadeFolder.TryDelete(staged);
    }

    private string NewTemporary(PackageReading reading) =>
        Path.Combine(_intake, $"{TemporaryPrefix}{reading.ContentHash}-{Path.GetRandomFileName()}");

    private bool Place(string path, PackageReading reading, string? staged, string target, Action<string> writeBeside)
    {
        if (reading.ContentHash.Length != ContentHash.Length)
            throw new InvalidOperationException("a contribution without a content hash has no address");
        string temporary = staged ?? NewTemporary(reading);
        try
        {
            CreatePrivate(_intake);
            CreatePrivate(_quarantine);
            if (staged is null)
            {
                CreatePrivate(temporary);
                if (reading.MayCopy && !CopyReceived(path, reading, Path.Combine(temporary, ReceivedName)))
                {
                    MadeFolder.TryDelete(temporary);
                    return false;
                }
            }
            writeBeside(temporary);
            // A folder without its report or header is what a crash of an older kind left; it has no content of its own.
            MadeFolder.TryDelete(target);
            Directory.Move(temporary, target);
            return true;
        }
        catch (Exception fault) when (StorageFault.Is(fault))
        {
            MadeFolder.TryDelete(temporary);
            (string hash, string why) = (PublicIntake.ShortOf(reading.ContentHash), StorageFault.PlainReason(fault));
            throw new ContributionException(
                $"The contribution {hash} could not be kept in {atlasFolder} because {why}; nothing of it was stored, mend that and "
                + "run again.", fault);
        }
    }

    // Copies what was received, and looks whether the copy is what was read.
    private bool CopyReceived(string path, PackageReading reading, string received)
    {
        Directory.CreateDirectory(received);
        bool isFolder = Directory.Exists(path);
        if (isFolder)
            reading.Received.CopyFolder(Path.GetFullPath(path), received);
        // A table and its mapping are kept side by side in the folder, which then reads as the same contribution with the same hash.
        foreach (string file in isFolder ? [] : reading.TableFiles.DefaultIfEmpty(path))
            reading.Received.Copy(Path.GetFullPath(file), Path.Combine(received, Path.GetFileName(file)));
        if (!reading.IsReadWhole)
            return true;
        if (!reading.IsUnchanged(path))
            return false;
        if (reading.Received.AreHeld)
            return true;   // written from the very bytes that were hashed
        string copy = isFolder || reading.TableFiles.Count > 0 ? received : Path.Combine(received, reading.FileName);
        using PackageReading again = PackageReading.Begin(copy, limits);
        return again.ContentHash == reading.ContentHash;
    }

    /// <summary>Whether a contribution came after a higher revision of it, and nobody was told yet.</summary>
    public bool IsLateNews(string hash) => File.Exists(Path.Combine(_intake, hash, LateName))
        && !File.Exists(Path.Combine(_intake, hash, LateToldName));

    public void MarkLateTold(string hash)
    {
        if (IsLateNews(hash))
            File.WriteAllBytes(Path.Combine(_intake, hash, LateToldName), []);
    }

    private Dictionary<string, ContributionHeader> Headers()
    {
        if (_headerByHash is not null)
            return _headerByHash;
        Dictionary<string, ContributionHeader> read = [];
        foreach (string folder in Folders(_intake).Where(folder => !IsTemporary(folder)))
        {
            string file = Path.Combine(folder, HeaderName);
            if (File.Exists(file))
                read[Path.GetFileName(folder)] = IntakeNote.Read<ContributionHeader>(file);
        }
        if (_register.HoldAgainst(read) && mayWrite)
            _register.Write(read);
        foreach (ContributionHeader header in read.Values)
            NoteRevision(header);
        return _headerByHash = read;
    }

    private void NoteRevision(ContributionHeader header)
    {
        if (!_revisionsOf.TryGetValue(header.ContributionId, out List<ContributionHeader>? revisions))
            _revisionsOf[header.ContributionId] = revisions = [];
        revisions.Add(header);
    }

    private static bool IsTemporary(string folder) => Path.GetFileName(folder).StartsWith(TemporaryPrefix, StringComparison.Ordinal);

    private static string[] Folders(string parent)
    {
        try
        {
            return Directory.Exists(parent) ? [.. Directory.EnumerateDirectories(parent).Order(StringComparer.Ordinal)] : [];
        }
        catch (Exception fault) when (StorageFault.Is(fault))
        {
            throw new ContributionException($"{parent} cannot be read; give the user who runs this the right to read it, and run again.",
                fault);
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
}
