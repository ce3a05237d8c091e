namespace DecayAtlas.Contributions.Receiving;

/// <summary>
/// The door of the atlas. Each received contribution goes whole into <c>intake/&lt;hash&gt;</c> or
/// <c>quarantine/&lt;hash&gt;</c>, byte for byte as it came, and the inbox itself is never touched, so taking it again
/// changes nothing. Only these two folders ever hold contact data. A verdict stands until what judged it changes: the
/// limits, the schema, the code, or what else was accepted.
/// </summary>
public sealed class Intake
{
    private const string Refused = "The inbox, the intake or the quarantine could not be read or written";

    private readonly IntakeLimits _limits;
    private readonly IntakeStore _store;
    private readonly Reception _reception;

    /// <param name="atlasFolder">Created when first written to. Leftovers of a run that was killed are swept away here.</param>
    /// <param name="mayWrite">False to look at an atlas that can't or must not be written to.</param>
    /// <param name="code">Stands for the code that takes over what is accepted: what could not be examined is tried again under
    /// another.</param>
    /// <param name="clock">Counts the time that reading a contribution takes; null for that of the system.</param>
    /// <param name="addresseeOf">How a contributor of a campaign, either of which may be unknown, is told what to mend; null for
    /// English.</param>
    /// <param name="daysOf">The days of a campaign, as far as they are known.</param>
    public Intake(string atlasFolder, IntakeLimits limits, bool mayWrite = true, string code = "", TimeProvider? clock = null,
        Func<string?, string?, Addressee>? addresseeOf = null, Func<string, ExpectedDays?>? daysOf = null)
        : this(atlasFolder, limits, WayOfReading.Under(limits, clock ?? TimeProvider.System), mayWrite, code, addresseeOf, daysOf)
    {
    }

    internal Intake(string atlasFolder, IntakeLimits limits, WayOfReading reads, bool mayWrite = true, string code = "",
        Func<string?, string?, Addressee>? addresseeOf = null, Func<string, ExpectedDays?>? daysOf = null)
    {
        _limits = limits;
        _store = new IntakeStore(atlasFolder, limits, mayWrite, addresseeOf);
        _store.SweepLeftovers();
        _reception = new Reception(_store, limits, reads, code, daysOf);
    }

    /// <param name="progress">Called with what is done, how many are done, and how many there are.</param>
    /// <exception cref="ContributionException">The inbox cannot be read or the atlas cannot be written; contributions taken before stay
    /// taken.</exception>
    /// <param name="accepted">Is handed each contribution as it is accepted, so that nobody has to read it again to know it.</param>
    public IReadOnlyList<IntakeResult> TakeInbox(string inboxFolder, Action<string, int, int>? progress,
        Action<Contribution>? accepted = null) =>
        ContributionException.Guard(Refused, () => Go(inboxFolder, progress, accepted, keeps: true));

    /// <summary>Says what <see cref="TakeInbox"/> would do, and keeps nothing. Two new contributions that contradict each other are both
    /// foreseen as accepted.</summary>
    /// <exception cref="ContributionException">The inbox cannot be read.</exception>
    public IReadOnlyList<IntakeResult> Foresee(string inboxFolder, Action<Contribution>? accepted = null) =>
        ContributionException.Guard(Refused, () => Go(inboxFolder, null, accepted, keeps: false));

    private List<IntakeResult> Go(string inboxFolder, Action<string, int, int>? progress, Action<Contribution>? accepted, bool keeps)
    {
        string[] received;
        try
        {
            received = [.. Directory.EnumerateFileSystemEntries(inboxFolder)
                .Where(path => !Package.IsLeftover(Path.GetFileName(path)))
                .Order(StringComparer.Ordinal)];
        }
        catch (Exception fault) when (StorageFault.Is(fault))
        {
            throw new ContributionException($"The inbox {inboxFolder} cannot be read; create it or give the right to read it, and run "
                + "again.", fault);
        }
        // A mapping arrives with its table, as one contribution.
        received = [
            .. received.Where(
                path => !SpreadsheetFiles.IsMapping(path) || IsLink(path)
                    || !SpreadsheetFiles.HasTable(path, received.Where(other => !IsLink(other) && File.Exists(other))))];
        _ = _store.AcceptedHeaders();   // read once, before several threads ask
        List<IntakeResult> results = [];
        foreach (string[] batch in ReadAhead.Batches(received))
        {
            // reading is the work, and is done side by side; deciding is done in the order of the names, which settles who came first
            Examined?[] examined = new Examined?[batch.Length];
            IntakeResult?[] failed = new IntakeResult?[batch.Length];
            try
            {
                Parallel.For(0, batch.Length, i =>
                {
                    string name = ReceivedText.Name(Path.GetFileName(batch[i]));
                    try
                    {
                        if (IsLink(batch[i]))
                            failed[i] = RefuseLink(name);
                        else
                            examined[i] = _reception.Examine(LoneZip.In(batch[i]), Path.GetFileName(batch[i]), copiesAhead: keeps);
                    }
                    catch (ContributionException fault)
                    {
                        failed[i] = NotRead(name, fault);   // told and left for the next run; it must not keep the others out
                    }
                    catch (Exception fault) when (OurMistake.Is(fault))
                    {
                        failed[i] = Reception.NotExamined(name, OurMistake.Of(fault));
                    }
                });
                for (int i = 0; i < batch.Length; i++)
                {
                    results.Add(failed[i] ?? _reception.Decide(examined[i]!, accepted, keeps));
                    progress?.Invoke(PublicIntake.Of(results[^1]).Name, results.Count, received.Length);
                }
            }
            finally
            {
                foreach (Examined one in examined.OfType<Examined>())
                {
                    one.Reading.Dispose();
                    IntakeStore.Unstage(one.Staged);   // one that was placed is not there any more
                }
            }
        }
        results.AddRange(JudgeKeptAnew([.. results.Select(result => result.ContentHash)], accepted, keeps));
        _store.SaveRegister();
        return results;
    }

    // What lies in the quarantine alone is judged anew from the copy that was kept, where what judged it changed.
    private List<IntakeResult> JudgeKeptAnew(HashSet<string> seen, Action<Contribution>? accepted, bool keeps)
    {
        List<IntakeResult> results = [];
        foreach (QuarantineReport report in _store.SetAside.All()
            .Where(report => !seen.Contains(report.ContentHash) && !_reception.IsAnswered(report) && !_reception.IsStanding(report))
            .ToArray())
        {
            foreach (string copy in _store.SetAside.ReceivedPaths(report.ContentHash))
            {
                Examined examined;
                try
                {
                    examined = _reception.Examine(copy, report.Source);
                }
                catch (Exception fault) when (OurMistake.Is(fault))
                {
                    results.Add(_reception.KeepUnexamined(report, OurMistake.Of(fault), keeps));
                    break;
                }
                using PackageReading reading = examined.Reading;
                if (reading.ContentHash != report.ContentHash)
                    continue;   // not as it came: a folder of one file, or one with links that were left out
                results.Add(_reception.Decide(examined, accepted, keeps));
                break;
            }
        }
        return [.. results.Where(result => result.Outcome != IntakeOutcome.AlreadyQuarantined)];
    }

    /// <summary>What lies in the quarantine and was neither accepted since nor followed by something that came in its place.</summary>
    public IReadOnlyList<IntakeResult> StillOpen() =>
    [
        .. _store.SetAside.All().Where(report => !_reception.IsAnswered(report))
            .Select(report => Reception.ResultOf(report, report.Source, IntakeOutcome.AlreadyQuarantined)),
    ];

    /// <summary>What a check would tell the sender of something that waits, read anew from the kept copy; the findings are those of its
    /// report.</summary>
    /// <param name="today">No day of a contribution can be later.</param>
    public CheckReport CheckOf(IntakeResult open, DateOnly today)
    {
        ReadResult told = new(null, open.Findings, open.ContentHash) { Format = open.Format };
        foreach (string copy in _store.SetAside.ReceivedPaths(open.ContentHash))
        {
            try
            {
                using PackageReading reading = PackageReading.Begin(copy, _limits, shownAs: open.Source);
                if (reading.ContentHash == open.ContentHash)
                    return CheckReport.OfSetAside(open.Source, reading.Complete(), open.Findings, today);
            }
            catch (Exception fault) when (OurMistake.Is(fault) || fault is ContributionException)
            {
                break;   // the findings of its report still are its answer
            }
        }

        return new CheckReport(open.Source, told, today);
    }

    /// <summary>What the check of an accepted contribution guessed, for its sender to confirm; <see langword="null"/> where
    /// nothing.</summary>
    /// <exception cref="ContributionException">The note of it can't be read.</exception>
    public KeptGuesses? GuessesOf(ContributionHeader header) => _store.GuessesOf(header.ContentHash);

    /// <summary>For each contribution id the accepted revision that counts, the highest, ordered by id.</summary>
    public IReadOnlyList<ContributionHeader> ActiveHeaders() =>
        [.. _store.AcceptedHeaders()
            .GroupBy(header => header.ContributionId)
            .Select(revisions => revisions.MaxBy(header => header.Revision)!)
            .OrderBy(header => header.ContributionId, StringComparer.Ordinal)];

    /// <summary>Writes <c>quarantine/waiting.md</c>, the curator's list of what waits, with the senders' own names and words.</summary>
    /// <param name="taken">What came of the inbox: what is not kept is known from nowhere else.</param>
    /// <exception cref="ContributionException">The disk refuses.</exception>
    public void WriteWaiting(IEnumerable<IntakeResult> taken) =>
        _store.WriteWaiting(StillOpen(), [.. taken.Where(one => one.Outcome == IntakeOutcome.Quarantined && one.ContentHash.Length == 0)]);

    /// <summary>Every accepted contribution in every revision, ordered by id and revision.</summary>
    public IReadOnlyList<ContributionHeader> AllHeaders() =>
        [.. _store.AcceptedHeaders().OrderBy(header => header.ContributionId, StringComparer.Ordinal).ThenBy(header => header.Revision)];

    /// <summary>What was accepted and is gone from the intake: its folder, or what was received in it. None of it is read.</summary>
    public IReadOnlyList<LostContribution> Lost() => _store.Lost();

    /// <exception cref="ContributionException">It no longer passes the checks.</exception>
    public Contribution Read(ContributionHeader header)
    {
        string path = _store.ReceivedPath(header.ContentHash), folder = Path.Combine("intake", header.ContentHash);
        using PackageReading reading = PackageReading.Begin(path, _limits, wasAccepted: true);
        ReadResult result = reading.Complete();
        if (result.Contribution is { } contribution && contribution.Header == header)
            return contribution;
        string why = result.Findings.Select(PublicFinding.Of).FirstOrDefault()?.ToString() ?? "its content is not what was received";
        throw new ContributionException(
            $"The accepted contribution {header.ContributionId} in {folder} no longer passes the checks ({why}). "
            + "Restore that folder from a backup; or take it out of the intake, "
            + "put the contribution into the inbox again as it was received, and run.");
    }

    private static IntakeResult NotRead(string name, ContributionException fault) => IntakeResult.NotKept(new Finding(
        FindingCode.FileUnreadable, name, "something that could not be read to its end",
        "a contribution that has arrived whole and may be read",
        $"see that nobody changes it, and run again; nothing was stored ({fault.Message.TrimEnd('.')})"));

    /// <summary>Reads every kept copy in the quarantine against its checksums.</summary>
    /// <returns>How many there are, and what is not what it was: path in the atlas, and what is wrong.</returns>
    public (int Copies, IReadOnlyList<(string Path, string What)> Changed) CheckSetAside() => _store.SetAside.Check();

    /// <summary>Notes that people were told of what is news, so that the next run does not call it so again.</summary>
    public void MarkTold(IEnumerable<IntakeResult> results)
    {
        foreach (IntakeResult result in results.Where(result => result.ContentHash.Length > 0))
        {
            if (result.Outcome == IntakeOutcome.Quarantined)
                _store.SetAside.MarkTold(result.ContentHash);
            else if (result.Outcome == IntakeOutcome.AcceptedLate)
                _store.MarkLateTold(result.ContentHash);
        }
    }

    private static bool IsLink(string path) => new FileInfo(path).LinkTarget is not null;

    // A link in the inbox is told but neither followed nor kept: there is nothing to keep.
    private static IntakeResult RefuseLink(string name) => IntakeResult.NotKept(new Finding(FindingCode.LinkNotAllowed, name,
        "a link to another place", "a folder, a .zip or a table", "put the contribution itself into the inbox"));
}
