namespace DecayAtlas.Contributions;

/// <summary>What became of one received thing.</summary>
public enum IntakeOutcome
{
    /// <summary>Valid, and now in the intake.</summary>
    Accepted,

    /// <summary>Not valid, and now in the quarantine with a report.</summary>
    Quarantined,

    /// <summary>The same content was accepted before; nothing was done.</summary>
    AlreadyKnown,

    /// <summary>The same content was quarantined before; nothing was done.</summary>
    AlreadyQuarantined,
}

/// <param name="Source">Name of the received folder or file.</param>
/// <param name="ContributionId">Null when the descriptor could not be read.</param>
/// <param name="Findings">Empty when accepted; those of the earlier report when quarantined before.</param>
public sealed record IntakeResult(string Source, IntakeOutcome Outcome, string ContentHash, string? ContributionId, IReadOnlyList<Finding> Findings);

/// <summary>
/// The door of the atlas. Each received contribution goes whole into <c>intake/&lt;hash&gt;</c> or
/// <c>quarantine/&lt;hash&gt;</c>, byte for byte as it came, and the inbox itself is never touched, so taking it again
/// changes nothing. Only these two folders ever hold contact data. To have content judged afresh, as after a change
/// of the schema, take its folder out of the quarantine.
/// </summary>
public sealed class Intake
{
    /// <summary>Contributions read side by side; their rows are in memory until it is decided where they go.</summary>
    private static readonly int ReadAhead = 2 * Environment.ProcessorCount;

    private readonly IntakeLimits limits;
    private readonly IntakeStore store;

    /// <param name="atlasFolder">Created when first written to. Leftovers of a run that was killed are swept away here.</param>
    public Intake(string atlasFolder, IntakeLimits limits)
    {
        this.limits = limits;
        store = new IntakeStore(atlasFolder);
        store.SweepLeftovers();
    }

    /// <summary>Takes everything in the inbox, in the order of the names.</summary>
    /// <param name="progress">Called with what is done, how many are done, and how many there are.</param>
    /// <exception cref="ContributionException">The inbox cannot be read or the atlas cannot be written; contributions taken before stay taken.</exception>
    /// <param name="accepted">Is handed each contribution as it is accepted, so that nobody has to read it again to know it.</param>
    public IReadOnlyList<IntakeResult> TakeInbox(string inboxFolder, Action<string, int, int>? progress, Action<Contribution>? accepted = null) =>
        Go(inboxFolder, progress, accepted, keeps: true);

    /// <summary>Says what <see cref="TakeInbox"/> would do, and keeps nothing. Two new contributions that contradict each other are both foreseen as accepted.</summary>
    /// <param name="accepted">Is handed each contribution that would be accepted.</param>
    /// <exception cref="ContributionException">The inbox cannot be read.</exception>
    public IReadOnlyList<IntakeResult> Foresee(string inboxFolder, Action<Contribution>? accepted = null) => Go(inboxFolder, null, accepted, keeps: false);

    private List<IntakeResult> Go(string inboxFolder, Action<string, int, int>? progress, Action<Contribution>? accepted, bool keeps)
    {
        string[] received;
        try
        {
            received = [.. Directory.EnumerateFileSystemEntries(inboxFolder)
                .Where(path => !Package.IsLeftover(Path.GetFileName(path)))
                .Order(StringComparer.Ordinal)];
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new ContributionException($"The inbox {inboxFolder} cannot be read; create it or give the right to read it, and run again.", fault);
        }
        // A mapping arrives with its table, as one contribution.
        received = [.. received.Where(path => !SpreadsheetFiles.IsMapping(path) || IsLink(path) || !SpreadsheetFiles.HasTable(path, received.Where(other => !IsLink(other) && File.Exists(other))))];
        _ = store.AcceptedHeaders();   // read once, before several threads ask
        List<IntakeResult> results = [];
        foreach (string[] batch in received.Chunk(ReadAhead))
        {
            // reading is the work, and is done side by side; deciding is done in the order of the names, which settles who came first
            Examined?[] examined = new Examined?[batch.Length];
            ContributionException?[] faults = new ContributionException?[batch.Length];
            try
            {
                Parallel.For(0, batch.Length, i =>
                {
                    try
                    {
                        examined[i] = IsLink(batch[i]) ? null : Examine(batch[i]);
                    }
                    catch (ContributionException fault)
                    {
                        faults[i] = fault;   // what can't be read now is told and left for the next run; it must not keep the others out
                    }
                });
                for (int i = 0; i < batch.Length; i++)
                {
                    results.Add(faults[i] is { } fault ? NotRead(batch[i], fault) : examined[i] is { } one ? Decide(one, accepted, keeps) : RefuseLink(batch[i]));
                    progress?.Invoke(Path.GetFileName(batch[i]), results.Count, received.Length);
                }
            }
            finally
            {
                foreach (Examined? one in examined)
                    one?.Reading.Dispose();
            }
        }
        return results;
    }

    /// <summary>Takes one folder, .zip, workbook, or table with the mapping beside it.</summary>
    /// <exception cref="ContributionException">There is nothing at the path, or the atlas cannot be written; nothing half-written is left.</exception>
    public IntakeResult Take(string path)
    {
        if (!File.Exists(path) && !Directory.Exists(path))
            throw new ContributionException($"There is nothing at {path}, expected a contribution as a folder, a .zip or a table; correct the path.");
        Examined examined = Examine(path);
        using PackageReading reading = examined.Reading;
        return Decide(examined, null, keeps: true);
    }

    /// <summary>A contribution as read; no result where its content was known already.</summary>
    private sealed record Examined(string Path, PackageReading Reading, ReadResult? Result);

    private Examined Examine(string path)
    {
        PackageReading reading = PackageReading.Begin(path, limits);
        bool isKnown = store.FindAccepted(reading.ContentHash) is not null || store.FindReport(reading.ContentHash) is not null;
        return new Examined(path, reading, isKnown ? null : reading.Complete());
    }

    private IntakeResult Decide(Examined examined, Action<Contribution>? accepted, bool keeps)
    {
        (string path, PackageReading reading) = (examined.Path, examined.Reading);
        string hash = reading.ContentHash;
        // asked again: one read side by side may have had the same content
        if (store.FindAccepted(hash) is { } known)
            return new IntakeResult(reading.Name, IntakeOutcome.AlreadyKnown, hash, known.ContributionId, []);
        if (store.FindReport(hash) is { } report)
        {
            // set aside by a run that did not live to tell: it is news still
            IntakeOutcome outcome = store.IsTold(hash) ? IntakeOutcome.AlreadyQuarantined : IntakeOutcome.Quarantined;
            return new IntakeResult(reading.Name, outcome, hash, report.ContributionId, report.Findings);
        }

        ReadResult result = examined.Result ?? reading.Complete();
        if (hash.Length == 0)   // nothing was there to read, so that there is nothing to keep and no address to keep it at
            return new IntakeResult(reading.Name, IntakeOutcome.Quarantined, "", null, result.Findings);
        Finding? conflict = result.Contribution is null ? null : Conflict(result.Contribution.Header, reading.Name);
        if (result.Contribution is not null && conflict is null)
        {
            if (keeps && !store.Accept(path, reading, result.Contribution.Header, limits))
                return StillArriving(reading);
            accepted?.Invoke(result.Contribution);
            return new IntakeResult(reading.Name, IntakeOutcome.Accepted, hash, reading.ContributionId, []);
        }
        IReadOnlyList<Finding> findings = conflict is null ? result.Findings : [conflict];
        return !keeps || store.Quarantine(path, reading, new QuarantineReport(reading.Name, hash, reading.ContributionId, findings), limits)
            ? new IntakeResult(reading.Name, IntakeOutcome.Quarantined, hash, reading.ContributionId, findings)
            : StillArriving(reading);
    }

    /// <summary>For each contribution id the accepted revision that counts, the highest, ordered by id.</summary>
    public IReadOnlyList<ContributionHeader> ActiveHeaders() =>
        [.. store.AcceptedHeaders()
            .GroupBy(header => header.ContributionId, StringComparer.Ordinal)
            .Select(revisions => revisions.MaxBy(header => header.Revision)!)
            .OrderBy(header => header.ContributionId, StringComparer.Ordinal)];

    /// <summary>Every contribution that was set aside, in order of the content hash.</summary>
    public IReadOnlyList<IntakeResult> SetAside() =>
        [.. store.Reports().Select(report => new IntakeResult(report.Source, IntakeOutcome.AlreadyQuarantined, report.ContentHash, report.ContributionId, report.Findings))];

    /// <summary>Every accepted contribution in every revision, ordered by id and revision.</summary>
    public IReadOnlyList<ContributionHeader> AllHeaders() =>
        [.. store.AcceptedHeaders().OrderBy(header => header.ContributionId, StringComparer.Ordinal).ThenBy(header => header.Revision)];

    /// <summary>The contributions of <see cref="ActiveHeaders"/>, read.</summary>
    /// <exception cref="ContributionException">An accepted contribution no longer passes the checks, as after tampering.</exception>
    public IReadOnlyList<Contribution> Active() => [.. ActiveHeaders().Select(Read)];

    /// <summary>Reads one accepted contribution.</summary>
    /// <exception cref="ContributionException">It no longer passes the checks.</exception>
    public Contribution Read(ContributionHeader header)
    {
        string path = store.ReceivedPath(header.ContentHash);
        ReadResult result = ContributionReader.Read(path, limits);
        if (result.Contribution is { } contribution && contribution.Header == header)
            return contribution;
        string why = result.Findings.Count > 0 ? result.Findings[0].ToString() : "its content is not what was received.";
        throw new ContributionException($"The accepted contribution {header.ContributionId} in {path} no longer passes the checks: {why} Take that folder out of the intake and take the contribution again.");
    }

    private Finding? Conflict(ContributionHeader header, string name)
    {
        foreach (ContributionHeader known in store.AcceptedHeaders())
        {
            if (known.ContributionId != header.ContributionId)
                continue;
            if (known.ContributorId != header.ContributorId)
                return new Finding(FindingCode.ContributionIdTaken, Descriptor.FileName, null, "/name", $"{header.ContributionId}, which another contributor uses",
                    "a contribution id of your own", "choose another name; beginning it with your contributor id keeps it free");
            if (known.Revision == header.Revision)
                return new Finding(FindingCode.RevisionRepeated, Descriptor.FileName, null, "/revision",
                    FormattableString.Invariant($"revision {header.Revision} of {header.ContributionId}, which was accepted before with other content"),
                    "a higher revision, as a correction needs one", FormattableString.Invariant($"set revision to {HighestRevision(header.ContributionId) + 1} and send {name} again"));
        }
        return null;
    }

    private int HighestRevision(string contributionId) =>
        store.AcceptedHeaders().Where(known => known.ContributionId == contributionId).Max(known => known.Revision);

    /// <summary>One that is still being copied into the inbox must not stop the others; the next run sees it whole.</summary>
    private static IntakeResult StillArriving(PackageReading reading) => new(reading.Name, IntakeOutcome.Quarantined, "", reading.ContributionId,
        [new Finding(FindingCode.ChangedWhileRead, reading.Name, null, null, "content that changed while it was read", "a contribution that has arrived whole",
            "wait until it has, and run again; nothing was stored")]);

    private static IntakeResult NotRead(string path, ContributionException fault) => new(Path.GetFileName(path), IntakeOutcome.Quarantined, "", null,
        [new Finding(FindingCode.FileUnreadable, Path.GetFileName(path), null, null, "something that could not be read to its end", "a contribution that has arrived whole and may be read",
            "see that nobody changes it, and run again; nothing was stored (" + fault.Message.TrimEnd('.') + ")")]);

    /// <summary>Notes that people were told of what was set aside, so that the next run does not call it news.</summary>
    public void MarkTold(IEnumerable<IntakeResult> results)
    {
        foreach (IntakeResult result in results.Where(r => r.Outcome == IntakeOutcome.Quarantined && r.ContentHash.Length > 0))
            store.MarkTold(result.ContentHash);
    }

    private static bool IsLink(string path) => new FileInfo(path).LinkTarget is not null;

    /// <summary>A link in the inbox is told but neither followed nor kept: there is nothing to keep.</summary>
    private static IntakeResult RefuseLink(string path) => new(Path.GetFileName(path), IntakeOutcome.Quarantined, "", null,
        [new Finding(FindingCode.LinkNotAllowed, Path.GetFileName(path), null, null, "a link to another place", "a folder, a .zip or a table",
            "put the contribution itself into the inbox")]);
}
