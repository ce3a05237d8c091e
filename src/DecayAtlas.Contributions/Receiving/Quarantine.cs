namespace DecayAtlas.Contributions.Receiving;

/// <summary>
/// The folder <c>quarantine</c>: reports, who was told, and what came in their place since. A folder is never taken away here, so
/// that the history of a contribution can be read from it; a verdict that changed leaves the one before beside it.
/// </summary>
/// <param name="addresseeOf">By contributor and campaign; null for English.</param>
internal sealed class Quarantine(string folder, Func<string?, string?, Addressee>? addresseeOf = null)
{
    public const string ChecksumsName = "received.sha256";

    private const string ToldName = "told";
    private const string AnsweredName = "answered-by.txt";

    private QuarantineIndex? _index;

    public QuarantineReport? Find(string hash)
    {
        string path = PathOf(hash, QuarantineReport.JsonName);
        return hash.Length > 0 && File.Exists(path) ? IntakeNote.Read<QuarantineReport>(path) : null;
    }

    public IEnumerable<QuarantineReport> All() => !Directory.Exists(folder) ? [] : Directory.EnumerateDirectories(folder)
        .Select(path => Path.GetFileName(path)!).Where(name => !name.StartsWith('.')).Order(StringComparer.Ordinal).Select(Find)
        .OfType<QuarantineReport>();

    public IReadOnlyList<QuarantineReport> Like(PackageReading reading) => (_index ??= new QuarantineIndex(All())).Like(reading);

    public void Added(QuarantineReport report) => _index?.Add(report);

    public bool IsTold(string hash) => File.Exists(PathOf(hash, ToldName));

    public void MarkTold(string hash)
    {
        if (Directory.Exists(Path.Combine(folder, hash)))
            File.WriteAllBytes(PathOf(hash, ToldName), []);
    }

    /// <summary>Content hash of what came in its place, which may be in the intake or in the quarantine itself; null where nothing
    /// did.</summary>
    public string? AnsweredBy(string hash) => File.Exists(PathOf(hash, AnsweredName)) ? File.ReadAllText(PathOf(hash, AnsweredName)).Trim()
        : null;

    public void Answer(string hash, string by)
    {
        if (AnsweredBy(hash) != by)
            DurableFile.WriteText(PathOf(hash, AnsweredName), by + "\n");
        _index?.Remove(hash);
    }

    /// <summary>Writes a new verdict over an earlier one, which stays beside it where it said something else.</summary>
    /// <param name="check">What a check tells of it; null where it could not even be listed.</param>
    public void JudgeAnew(QuarantineReport earlier, QuarantineReport report, CheckReport? check)
    {
        string hash = report.ContentHash, current = PathOf(hash, QuarantineReport.JsonName);
        if (!earlier.Findings.SequenceEqual(report.Findings))
        {
            int number = 1;
            while (File.Exists(PathOf(hash, EarlierName(number))))
                number++;
            File.Copy(current, PathOf(hash, EarlierName(number)));
            File.Delete(PathOf(hash, ToldName));
        }

        DurableFile.WriteText(PathOf(hash, QuarantineReport.MarkdownName), Markdown(report, check, ReceivedPaths(hash).Count > 0));
        DurableFile.WriteText(current, IntakeNote.Text(report));
        Added(report);
    }

    public string Markdown(QuarantineReport report, CheckReport? check, bool isKept) =>
        report.ToMarkdown(isKept, AddresseeOf(report.ContributorId, report.Campaign), check);

    public Addressee AddresseeOf(string? contributorId, string? campaign) =>
        addresseeOf?.Invoke(contributorId, campaign) ?? new Addressee(SenderWords.Find("en")!, null);

    /// <summary>The places from which a kept copy may be read as it was received: its one file, and its folder.</summary>
    public IReadOnlyList<string> ReceivedPaths(string hash)
    {
        string received = PathOf(hash, IntakeStore.ReceivedName);
        if (!Directory.Exists(received))
            return [];
        return Directory.GetFileSystemEntries(received) is [string only] && File.Exists(only) ? [only, received] : [received];
    }

    public (int Copies, IReadOnlyList<(string Path, string What)> Changed) Check()
    {
        List<(string, string)> changed = [];
        int copies = 0;
        foreach (string path in Directory.Exists(folder) ? Directory.GetDirectories(folder).Order(StringComparer.Ordinal)
            : Enumerable.Empty<string>())
        {
            string hash = Path.GetFileName(path), sums = PathOf(hash, ChecksumsName), place = Path.Combine("quarantine", hash);
            string received = Path.Combine(place, IntakeStore.ReceivedName), report = Path.Combine(place, QuarantineReport.JsonName);
            copies++;
            if (!File.Exists(sums))
            {
                changed.Add((place, "it has no list of checksums"));
            }
            else
            {
                changed.AddRange(FolderChecksums.Differences(PathOf(hash, IntakeStore.ReceivedName), File.ReadLines(sums))
                    .Select(difference => SchemaCatalogue.IsFileName(difference.Path)
                        ? (Path.Combine(received, difference.Path), difference.What)
                        : (received, "of a file in it: " + difference.What)));
            }

            try
            {
                if (Find(hash) is null)
                    changed.Add((report, "it is missing"));
            }
            catch (ContributionException)
            {
                changed.Add((report, "it can't be read as the report that was written"));
            }
        }
        return (copies, changed);
    }

    private string PathOf(string hash, string name) => Path.Combine(folder, hash, name);

    private static string EarlierName(int number) => Invariant($"report-{number}.json");
}
