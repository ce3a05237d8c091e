using System.Text;
using System.Text.RegularExpressions;

namespace DecayAtlas.Contributions.Reading;

/// <summary>
/// A contribution while it is read. First everything is listed, hashed and checked for size and encoding, so that
/// content that is already known needs no more; only then, when asked, are the tables parsed.
/// </summary>
internal sealed class PackageReading : IDisposable
{
    private const string Expected =
        "a folder or a .zip with " + SchemaCatalogue.DescriptorName + ", a workbook, or a table with its mapping";

    /// <summary>What was accepted before there was a rule stays accepted.</summary>
    private static readonly string[] YoungerThanTheAccepted = [FindingCode.LicenceNotOpen];

    private readonly Package? _package;
    private readonly PackageSurvey? _survey;
    private readonly IntakeLimits _limits;
    private readonly ReadingTime _time;
    private readonly FindingList _findings;

    private PackageReading(
        string path, string? mappingPath, IntakeLimits limits, string? shownAs, TimeProvider clock, bool wasAccepted)
    {
        _limits = limits;
        _time = new ReadingTime(limits.MaxSeconds, clock);
        _findings = new FindingList(_time) { Untold = wasAccepted ? YoungerThanTheAccepted : [] };
        FileName = Path.GetFileName(Path.TrimEndingDirectorySeparator(path));
        Name = ReceivedText.Name(shownAs ?? FileName);
        if (Directory.Exists(path))
        {
            _package = FolderListing.List(path, Received, _findings);
        }
        else if (File.Exists(path) && path.EndsWith(".zip", StringComparison.OrdinalIgnoreCase))
        {
            _package = ZipListing.List(path, Received, _findings);
        }
        else if (File.Exists(path) && SpreadsheetFiles.IsTable(path)
            && (!SpreadsheetFiles.MayBeNote(path) || mappingPath is not null || File.Exists(SpreadsheetFiles.MappingPathOf(path))))
        {
            _package = SingleTable(path, mappingPath);
        }
        else if (File.Exists(path))
        {
            _package = Stray(path);
        }
        else
        {
            _findings.Add(FindingCode.PackageNotFound, Name, "nothing at this place", Expected, "correct the path");
        }

        IsListedWhole = _findings.Count == 0;
        if (_package is not null)
            _survey = PackageSurvey.Of(_package, path, Received, limits, _findings);
    }

    public string Name { get; }

    public string FileName { get; }

    public string ContentHash => _survey?.ContentHash ?? "";

    /// <summary>Known once the tables were read and the descriptor was good.</summary>
    public ContributionHeader? Header { get; private set; }

    public string? ContributionId => Header?.ContributionId;

    /// <summary>Known once it was read; null where it was not even clear what was sent.</summary>
    public ContributionFormat? Format { get; private set; }

    /// <summary>SHA-256 of the one table, where there is one; the same table may come again with another mapping.</summary>
    public string? TableSha256 => _package?.Spreadsheet is { } spreadsheet && !IsStray ? _survey?.Sha256Of(spreadsheet.Table.Path) : null;

    /// <summary>SHA-256 of the mapping, where there is one: the address in the quarantine of a mapping that came without its
    /// table.</summary>
    public string? MappingSha256 => _package?.Spreadsheet?.Mapping is { } mapping ? _survey?.Sha256Of(mapping.Path) : null;

    /// <summary>The one table or workbook, where there is one.</summary>
    public string? TableName => _package?.Spreadsheet?.Table.Path;

    public string? MappingName => _package?.Spreadsheet?.Mapping?.Path;

    public ReceivedFiles Received { get; } = new();

    /// <summary>False when links or other things had to be left out of the list.</summary>
    public bool IsListedWhole { get; }

    /// <summary>Whether all that was received is still as it was when it was read.</summary>
    public bool IsUnchanged(string path) => Received.AreUnchanged && (!Directory.Exists(path)
        || FolderListing.List(path, new ReceivedFiles(), new FindingList()).Files.Select(file => file.Path)
            .SequenceEqual(_package!.Files.Select(file => file.Path)));

    /// <summary>Every byte was read, so that a copy must give the same content hash.</summary>
    public bool IsReadWhole => IsListedWhole && _survey is { IsWhole: true };

    /// <summary>False when the package is larger than anything that is kept, or cannot be opened.</summary>
    public bool MayCopy => _survey is { TooLarge: false, IsReadable: true, TookTooLong: false }
        && !_findings.Has(FindingCode.FileUnreadable);

    /// <summary>The received files, where they are not a folder and not a zip: a table, and its mapping if it has one.</summary>
    public IReadOnlyList<string> TableFiles { get; private set; } = [];

    private bool IsStray { get; set; }

    private SpreadsheetContribution? Spread { get; set; }

    /// <summary>A finding at the cell of a kit that says a field of the package.</summary>
    public Finding PlaceInKit(Finding finding, string field) => Spread?.PlaceInKit(finding, field) ?? finding;

    /// <exception cref="ContributionException">A file went away while it was read.</exception>
    public static PackageReading Begin(string path, IntakeLimits limits, string? mappingPath = null, string? shownAs = null,
        TimeProvider? clock = null, bool wasAccepted = false) => Guarded(
            () => new PackageReading(path, mappingPath, limits, shownAs, clock ?? TimeProvider.System, wasAccepted));

    /// <exception cref="ContributionException">A file went away while it was read.</exception>
    public ReadResult Complete() => Guarded(() =>
    {
        if (_survey is { TookTooLong: true })
            return new ReadResult(null, [_time.Over(Name)], ContentHash);
        try
        {
            _time.Restart();
            return ReadAll();
        }
        catch (Exception fault) when (fault is ReadingTimeOverException or RegexMatchTimeoutException)
        {
            return new ReadResult(null, [_time.Over(Name)], ContentHash);
        }
    });

    public void Dispose() => _package?.Dispose();

    private ReadResult ReadAll()
    {
        ContributionHeader? header = null;
        ContributionTables? tables = null;
        ContributionFormat? format = null;
        SpreadsheetContribution? spread = null;
        if (_package is { Files.Count: > 0 } && _survey is { IsWhole: true } && !IsStray)
        {
            if (_package.Spreadsheet is { } spreadsheet)
            {
                spread = new SpreadsheetContribution(spreadsheet, ContentHash, _limits, _findings);
                tables = spread.Read();
                (header, format) = (spread.Header, spread.Format);
            }
            else if (_package.SeveralTables is { Count: > 0 } several)
            {
                _findings.Add(SpreadsheetFiles.OneAfterTheOther(several));
            }
            else
            {
                format = ContributionFormat.DataPackage;
                (header, tables) = ReadTables(_package, _survey);
            }
        }
        (Header, Format, Spread) = (header, format, spread);
        IReadOnlyList<BurialRows> burials = tables is null ? [] : BurialRows.Of(tables.Bags, tables.Lots);
        bool isGood = _findings.Count == 0 && header is not null && tables is not null;
        return new ReadResult(isGood ? new Contribution(header!, tables!.Sites, tables.Lots, tables.Bags, tables.Samples)
        {
            Results = tables.Results,
        } : null,
            _findings.Close(Name), ContentHash)
        {
            Format = format,
            Stated = spread?.Stated,
            SoundRows = tables,
            Burials = burials,
            Expected = spread?.Expected,
            PlannedDepthCentimetres = spread?.PlannedDepthCentimetres,
            DaysBeside = DaysBeside,
            Warnings = tables is null ? []
                :
                [
                    .. MeasurementWarnings.Of(tables.Lots, FileOf("lots"), SheetOf("lots")),
                    .. MeasurementWarnings.Of(tables.Bags, FileOf("bags"), SheetOf("bags")),
                    .. format == ContributionFormat.WideTable
                        ? HiddenPlaceWarnings.Of(tables.Sites, FileOf("sites"), SheetOf("sites")) : [],
                    .. BurialWarnings.Of(tables.Bags, FileOf("bags"), SheetOf("bags")),
                    .. SlipWarnings.Of(tables.Sites, tables.Lots, tables.Bags, FileOf, SheetOf, At),
                    .. spread?.Expected is { } days ? DaysBeside(days) : [],
                    .. ConditionWarnings.Of(tables.Bags, burials, FileOf("bags"), SheetOf("bags"),
                        text => spread?.SaysOfDrying(text) == true, text => spread?.SaysOfCounting(text) == true,
                        text => spread?.IsRead(text) == true, At),
                    .. MeasurementWarnings.OfUnsaidWater(tables.Bags, FileOf("bags"), SheetOf("bags")),
                    .. ResultWarnings.Of(tables.Results, FileOf("results"), SheetOf("results")),
                    .. SampleWarnings.Of(tables.Samples, FileOf("samples"), SheetOf("samples")),
                    .. WordWarnings.Of(tables.Sites, tables.Bags, tables.Results, FileOf, SheetOf)
                        .Where(warning => spread?.TellsWordsOf(warning.Column) != true),
                    .. spread?.Told ?? [],
                    .. _package?.Spreadsheet?.Beside(_package.Files) ?? [],
                ],
        };

        IReadOnlyList<Finding> DaysBeside(ExpectedDays days) =>
            tables is null ? [] : CampaignDayWarnings.Of(tables.Bags, days, FileOf("bags"), SheetOf("bags"), At);

        string FileOf(string table) => _package?.Spreadsheet?.Table.Path ?? table + ".csv";

        string? SheetOf(string table) => spread?.SheetOf(table);

        Finding At(Finding finding, string? role) => spread?.At(finding, role) ?? finding;
    }

    private static T Guarded<T>(Func<T> read) =>
        ContributionException.Guard("A contribution could not be read to its end", read, "see that nobody changes it");

    private Package Stray(string path)
    {
        IsStray = true;
        _findings.Add(FindingCode.StrayFile, Name, "a file that is not a contribution", Expected,
            "send the contribution as a folder, a .zip, an .xlsx, or a CSV file with its mapping");
        return new Package(path, [Plain(path)], null);
    }

    // A table in a file of its own, with the mapping beside it or the one that was named.
    private Package SingleTable(string path, string? mappingPath)
    {
        string beside = SpreadsheetFiles.MappingPathOf(path);
        string? mapping = mappingPath ?? (File.Exists(beside) && new FileInfo(beside).LinkTarget is null ? beside : null);
        if (FolderListing.HostileName(FileName) is { } hostile)
            _findings.Add(hostile);
        TableFiles = mapping is null ? [path] : [path, mapping];
        PackageFile[] files = [.. TableFiles.Select(Plain)];
        return new Package(path, files, null) { Spreadsheet = new SpreadsheetFiles(files[0], files.ElementAtOrDefault(1)) };
    }

    private PackageFile Plain(string path) => Received.Add(Path.GetFileName(path), new FileInfo(path));

    private (ContributionHeader?, ContributionTables?) ReadTables(Package whole, PackageSurvey read)
    {
        Descriptor? descriptor = Descriptor.Read(whole, read, _findings);
        if (descriptor is null)
            return (null, null);
        return (descriptor.Header, ContributionTables.Read(
            schema => descriptor.FileByTable.TryGetValue(schema.Name, out string? path)
                && whole.Find(path) is not null && !read.NotText.Contains(path) ? path : null,
            table =>
            {
                using StreamReader text = new(whole.Find(table.File)!.Open(), Encoding.UTF8);
                TableReader.Read(text, table);
            }, _limits, _findings));
    }
}
