using System.IO.Hashing;
using System.Security.Cryptography;

namespace DecayAtlas.Contributions.Packages;

/// <summary>
/// First pass over a package: every byte is read once under the limits, hashed, and text files are checked to be
/// UTF-8. The second pass then parses tables that are known to be small enough and well encoded.
/// </summary>
internal sealed class PackageSurvey
{
    private const int BufferBytes = 1 << 17;

    // A ratio says nothing about a tiny entry.
    private const long RatioCountsFromBytes = 1L << 20;

    private readonly IntakeLimits _limits;
    private readonly FindingList _findings;
    private readonly byte[] _buffer = new byte[BufferBytes];
    private readonly Dictionary<string, string> _sha256ByPath = [];
    private long _total;
    private readonly bool _isDataPackage;
    private bool _stopped;

    private PackageSurvey(bool isDataPackage, IntakeLimits limits, FindingList findings)
    {
        _isDataPackage = isDataPackage;
        _limits = limits;
        _findings = findings;
    }

    /// <summary>Too much to be copied into the quarantine: only its list was hashed.</summary>
    public bool TooLarge { get; private set; }

    /// <summary>Reading was given up because of the time that it took.</summary>
    public bool TookTooLong { get; private set; }

    /// <summary>False when some of it could not be opened, so that it cannot be copied either.</summary>
    public bool IsReadable { get; private set; } = true;

    public string ContentHash { get; private set; } = "";

    /// <summary>Every file could be read to its end within the limits, so the tables may be parsed.</summary>
    public bool IsWhole => !TooLarge && !_stopped;

    /// <summary>Files that hold something other than UTF-8 text where text was needed; they are not parsed.</summary>
    public HashSet<string> NotText { get; } = [];

    /// <summary>SHA-256 of a file that was read; null for one that was not.</summary>
    public string? Sha256Of(string path) => _sha256ByPath.GetValueOrDefault(path);

    public static PackageSurvey Of(Package package, string path, ReceivedFiles received, IntakeLimits limits, FindingList findings)
    {
        PackageSurvey survey = new(package.Spreadsheet is null && package.SeveralTables.Count == 0, limits, findings);
        bool isZip = File.Exists(path);
        bool listedWhole = findings.Count == 0;
        if (package.Files.Count == 0 && listedWhole)
        {
            findings.Add(FindingCode.PackageEmpty, package.Name, "no files", "datapackage.json and the tables",
                "put the files into the contribution and send it again");
        }

        survey.CheckSizes(package, isZip, isZip ? new FileInfo(path).Length : package.Files.Sum(file => file.Bytes));
        if (!survey.TooLarge)
        {
            foreach (PackageFile file in package.Files)
            {
                if (!survey._stopped)
                    survey.Read(file);
            }
        }
        // A zip that could not be read through is addressed by its own bytes, anything else by what was read.
        survey.ContentHash = survey.TooLarge ? ListHash(package)
            : isZip && (!listedWhole || survey._stopped) ? survey.RawHash(path, received) ?? ListHash(package)
            : survey._stopped ? ListHash(package)
            : !listedWhole ? ListHash(package, survey._sha256ByPath)
            : Contributions.ContentHash.Of(survey._sha256ByPath);
        return survey;
    }

    private void CheckSizes(Package package, bool isZip, long bytes)
    {
        if (package.Files.Count > _limits.MaxFiles)
        {
            _findings.Add(FindingCode.TooManyFiles, package.Name, Invariant($"{package.Files.Count} files"),
                Invariant($"at most {_limits.MaxFiles}"), "leave out what does not belong to the contribution, or split it");
            _stopped = true;
            TooLarge = !isZip;
        }
        if (bytes > _limits.MaxPackageBytes)
        {
            _findings.Add(FindingCode.PackageTooLarge, package.Name, Invariant($"{bytes} bytes"),
                Invariant($"at most {_limits.MaxPackageBytes} bytes"), "split it into several contributions");
            TooLarge = true;
        }
    }

    private void Read(PackageFile file)
    {
        using IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        Utf8Scan? scan = _isDataPackage && IsText(file.Path) ? new Utf8Scan() : null;
        Crc32 crc = new();
        long bytes = 0;
        try
        {
            using Stream stream = file.Open();
            int read;
            while ((read = stream.Read(_buffer)) > 0)
            {
                bytes += read;
                _total += read;
                if (IsOverLimit(file, bytes))
                    return;
                if (_findings.Time.IsOver)
                {
                    TookTooLong = _stopped = true;
                    return;
                }
                ReadOnlySpan<byte> chunk = _buffer.AsSpan(0, read);
                hash.AppendData(chunk);
                scan?.Append(chunk);
                if (file.Packed is not null)
                    crc.Append(chunk);
            }
        }
        catch (Exception fault) when (file.Packed is not null && ZipListing.IsBroken(fault))
        {
            Stop(ZipListing.Broken(file.Path));
            return;
        }
        catch (Exception fault) when (StorageFault.Is(fault))
        {
            Stop(FolderListing.Unreadable(file.Path));
            IsReadable = false;
            return;
        }
        if (file.Packed is not null && (crc.GetCurrentHashAsUInt32() != file.Packed.Crc32 || bytes != file.Bytes))
        {
            Stop(ZipListing.Broken(file.Path));
            return;
        }
        _sha256ByPath[file.Path] = Convert.ToHexStringLower(hash.GetHashAndReset());
        if (scan?.Close(file.Path) is { } finding)
        {
            _findings.Add(finding);
            NotText.Add(file.Path);
        }
    }

    private bool IsOverLimit(PackageFile file, long bytes)
    {
        if (file.Packed is { } packed && bytes > RatioCountsFromBytes && bytes / _limits.MaxCompressionRatio > packed.PackedBytes)
        {
            Stop(new Finding(FindingCode.ZipTooDense, file.Path,
                Invariant($"an entry of {packed.PackedBytes} bytes that unpacks to more than {bytes} bytes"),
                Invariant($"at most {_limits.MaxCompressionRatio} bytes out of one"),
                "send the tables themselves, zipped in the ordinary way"));
        }
        else if (bytes > _limits.MaxFileBytes)
        {
            Stop(new Finding(FindingCode.FileTooLarge, file.Path, Invariant($"more than {_limits.MaxFileBytes} bytes"),
                Invariant($"at most {_limits.MaxFileBytes} bytes"), "split it into several contributions"));
        }
        else if (_total > _limits.MaxPackageBytes)
        {
            Stop(new Finding(FindingCode.PackageTooLarge, file.Path,
                Invariant($"a contribution that unpacks to more than {_limits.MaxPackageBytes} bytes"),
                Invariant($"at most {_limits.MaxPackageBytes} bytes"), "split it into several contributions"));
        }

        return _stopped;
    }

    private void Stop(Finding finding)
    {
        _findings.Add(finding);
        _stopped = true;
    }

    private static bool IsText(string path) =>
        path == SchemaCatalogue.DescriptorName || path.EndsWith(".csv", StringComparison.OrdinalIgnoreCase);

    private string? RawHash(string path, ReceivedFiles received)
    {
        try
        {
            using Stream stream = received.Open(Path.GetFullPath(path));
            return Convert.ToHexStringLower(SHA256.HashData(stream));
        }
        catch (Exception fault) when (StorageFault.Is(fault))
        {
            IsReadable = false;
            return null;
        }
    }

    // Address of what cannot have a content hash. It must differ from the content hash of the same files once they are mended, or the
    // mended contribution would be taken for the refused one.
    private static string ListHash(Package package, IReadOnlyDictionary<string, string>? sha256ByPath = null) =>
        Contributions.ContentHash.Of(package.Files
            .Select(file => KeyValuePair.Create(file.Path, sha256ByPath?.GetValueOrDefault(file.Path) ?? Invariant($"{file.Bytes} bytes")))
            .Prepend(KeyValuePair.Create("", "not read whole: " + package.Name)));
}
