namespace DecayAtlas.Contributions.Receiving;

/// <summary>A contribution as read; no result where its content was known already.</summary>
/// <param name="Mistake">What went wrong over it that is ours; <see langword="null"/> where it could be examined.</param>
internal sealed record Examined(string Path, PackageReading Reading, ReadResult? Result, string? Staged = null, OurMistake? Mistake = null);

/// <summary>How a contribution is listed and hashed (path, and what it was called when it was received), and then read.</summary>
internal sealed record WayOfReading(Func<string, string?, PackageReading> Begin, Func<PackageReading, ReadResult> Complete)
{
    /// <summary>No day of a contribution can be later.</summary>
    public DateOnly Today { get; init; } = DateOnly.FromDateTime(DateTime.UtcNow);

    public static WayOfReading Under(IntakeLimits limits, TimeProvider clock) => new(
        (path, shownAs) => PackageReading.Begin(path, limits, null, shownAs, clock), reading => reading.Complete())
    {
        Today = DateOnly.FromDateTime(clock.GetUtcNow().UtcDateTime),
    };
}

/// <summary>
/// Reads one received thing, decides whether it goes into the intake or the quarantine, and puts it there. A mistake of our own over one
/// thing is caught here: that thing waits in the quarantine, and all others go on.
/// </summary>
/// <param name="code">Stands for the code that takes over what is accepted; its mistakes too set a contribution aside.</param>
/// <param name="daysOf">The days of a campaign by its id; null where none is known.</param>
internal sealed class Reception(IntakeStore store, IntakeLimits limits, WayOfReading reads, string code,
    Func<string, ExpectedDays?>? daysOf = null)
{
    private readonly string _judge = VerdictKey.Of(limits);

    public Examined Examine(string path, string? shownAs = null, bool copiesAhead = false)
    {
        PackageReading reading = reads.Begin(path, shownAs);
        try
        {
            bool isKnown = store.FindAccepted(reading.ContentHash) is not null
                || store.SetAside.Find(reading.ContentHash) is { } report && IsStanding(report);
            if (isKnown)
                return new Examined(path, reading, null);
            ReadResult result = reads.Complete(reading);
            bool isCopied = copiesAhead && reading.MayCopy && reading.ContentHash.Length > 0
                && store.SetAside.Find(reading.ContentHash) is null;
            return new Examined(path, reading, result, isCopied ? store.TryStage(path, reading) : null);
        }
        catch (Exception fault) when (OurMistake.Is(fault))
        {
            return new Examined(path, reading, null, null, OurMistake.Of(fault));
        }
    }

    public IntakeResult Decide(Examined examined, Action<Contribution>? accepted, bool keeps)
    {
        try
        {
            return examined.Mistake is null ? DecideUpon(examined, accepted, keeps) : SetAsideUnexamined(examined, keeps);
        }
        catch (Exception fault) when (OurMistake.Is(fault))
        {
            IntakeStore.Unstage(examined.Staged);   // it may hold half of what stands beside an accepted one
            return SetAsideUnexamined(examined with { Staged = null, Mistake = OurMistake.Of(fault) }, keeps);
        }
    }

    /// <summary>What came to nothing before it had an address: it is told, and nothing of it can be kept.</summary>
    public static IntakeResult NotExamined(string name, OurMistake mistake) =>
        IntakeResult.NotKept(UnexaminedFinding(name)) with { Mistake = mistake };

    /// <summary>What lies in the quarantine already, and could not even be listed when it was to be judged anew.</summary>
    public IntakeResult KeepUnexamined(QuarantineReport earlier, OurMistake mistake, bool keeps)
    {
        QuarantineReport report = earlier with
        {
            Findings = [UnexaminedFinding(earlier.Source)],
            JudgedBy = JudgeOf(mistake),
            Mistake = mistake,
        };
        if (keeps)
            store.SetAside.JudgeAnew(earlier, report, null);
        return ResultOf(report, report.Source);
    }

    private IntakeResult SetAsideUnexamined(Examined examined, bool keeps)
    {
        PackageReading reading = examined.Reading;
        try
        {
            if (reading.ContentHash.Length == 0)
                return NotExamined(reading.Name, examined.Mistake!);
            QuarantineReport? earlier = store.SetAside.Find(reading.ContentHash);
            return earlier is not null && IsStanding(earlier)
                ? AsBefore(earlier, reading.Name)
                : SetAsideNow(examined with { Result = null }, earlier, [UnexaminedFinding(reading.Name)], keeps);
        }
        catch (Exception fault) when (OurMistake.Is(fault))
        {
            return NotExamined(reading.Name, OurMistake.Of(fault));   // not even its report could be made
        }
    }

    private static Finding UnexaminedFinding(string name) => new(
        FindingCode.NotExamined, name, "a mistake of this program, which could not examine it",
        "nothing else of you: the mistake is not yours",
        "nothing is to be done; the curator was told, and it is examined again as soon as the program is mended");

    // another build of the code that takes it over may get by where this one fell
    private string JudgeOf(OurMistake? mistake) => mistake is null ? _judge : $"{_judge} {code}";

    private IntakeResult DecideUpon(Examined examined, Action<Contribution>? accepted, bool keeps)
    {
        PackageReading reading = examined.Reading;
        string hash = reading.ContentHash;
        // asked again: one read side by side may have had the same content
        if (store.FindAccepted(hash) is { } known)
        {
            return new IntakeResult(reading.Name, store.IsLateNews(hash) ? IntakeOutcome.AcceptedLate : IntakeOutcome.AlreadyKnown, hash,
                known.ContributionId, []);
        }

        QuarantineReport? earlier = store.SetAside.Find(hash);
        if (earlier is not null && IsStanding(earlier))
            return AsBefore(earlier, reading.Name);

        ReadResult result = examined.Result ?? reads.Complete(reading);
        if (hash.Length == 0)   // nothing was there to read, so that there is nothing to keep and no address to keep it at
            return new IntakeResult(reading.Name, IntakeOutcome.Quarantined, "", null, result.Findings);
        Finding? conflict = result.Contribution is { } sound
            ? Conflict(reading, sound.Header.ContributionId, sound.Header.ContributorId, sound.Header.Revision) : null;
        if (result.Contribution is { } contribution && conflict is null)
            return AcceptNow(examined, contribution, KeptGuesses.Of(result, daysOf?.Invoke(contribution.Header.Campaign)), accepted, keeps);
        return SetAsideNow(examined with { Result = result }, earlier, conflict is null ? result.Findings : [conflict], keeps);
    }

    private IntakeResult AcceptNow(
        Examined examined, Contribution contribution, KeptGuesses? guesses, Action<Contribution>? accepted, bool keeps)
    {
        PackageReading reading = examined.Reading;
        ContributionHeader header = contribution.Header;
        int highest = HighestRevision(header.ContributionId);
        bool isLate = highest > header.Revision;
        (int, int)? shrunk = isLate ? null : Shrunk(contribution);
        accepted?.Invoke(contribution);   // first, so that one whose taking over fails is not accepted yet and can be set aside
        if (keeps)
        {
            AnswerOthers(reading);
            string? late = isLate ? LateText(reading.Name, header, highest) : null;
            if (!store.Accept(examined.Path, reading, header, late, examined.Staged, guesses))
                return StillArriving(reading);
        }
        return new IntakeResult(reading.Name, isLate ? IntakeOutcome.AcceptedLate : IntakeOutcome.Accepted, reading.ContentHash,
            header.ContributionId, [])
        { Shrunk = shrunk };
    }

    // who mends one burial may send that one alone, and all others stop counting
    private (int Before, int Now)? Shrunk(Contribution contribution)
    {
        if (store.AcceptedOf(contribution.Header.ContributionId).Where(header => header.Revision < contribution.Header.Revision)
            .MaxBy(header => header.Revision) is not { } last || store.ReceivedPath(last.ContentHash) is var path && !Path.Exists(path))
        {
            return null;
        }
        using PackageReading reading = reads.Begin(path, null);
        return reads.Complete(reading).Contribution is { } before && Held(contribution) * 2 < Held(before)
            ? (Held(before), Held(contribution)) : null;

        static int Held(Contribution of) => of.Bags.Select(bag => bag.BurialId).Distinct().Count() + of.Results.Count;
    }

    private IntakeResult SetAsideNow(Examined examined, QuarantineReport? earlier, IReadOnlyList<Finding> findings, bool keeps)
    {
        PackageReading reading = examined.Reading;
        QuarantineReport report = new(reading.Name, reading.ContentHash, reading.ContributionId, findings)
        {
            JudgedBy = JudgeOf(examined.Mistake),
            Mistake = examined.Mistake,
            ContributorId = reading.Header?.ContributorId,
            Campaign = reading.Header?.Campaign,
            Format = reading.Format,
            Revision = reading.Header?.Revision ?? 0,
            Tries = (earlier?.Tries ?? 0) + 1,
            AcceptedBefore = reading.ContributionId is { } id ? HighestRevision(id) : 0,
            TableSha256 = reading.TableSha256,
        };
        CheckReport check = CheckReport.OfSetAside(
            reading.Name, examined.Result ?? new ReadResult(null, findings, reading.ContentHash), findings, reads.Today);
        if (earlier is not null)
        {
            if (keeps)
                store.SetAside.JudgeAnew(earlier, report, check);
            return earlier.Findings.SequenceEqual(findings) ? AsBefore(report, reading.Name) : ResultOf(report, reading.Name);
        }
        if (keeps)
        {
            AnswerOthers(reading);
            if (!store.Quarantine(examined.Path, reading, report, check, examined.Staged))
                return StillArriving(reading);
            store.SetAside.Added(report);
        }
        return ResultOf(report, reading.Name);
    }

    public static IntakeResult ResultOf(QuarantineReport report, string name, IntakeOutcome outcome = IntakeOutcome.Quarantined) =>
        new(name, outcome, report.ContentHash, report.ContributionId, report.Findings)
        {
            Mistake = report.Mistake,
            ContributorId = report.ContributorId,
            Campaign = report.Campaign,
            Format = report.Format,
        };

    // Set aside by a run that did not live to tell, it is news still.
    private IntakeResult AsBefore(QuarantineReport report, string name) =>
        ResultOf(report, name, store.SetAside.IsTold(report.ContentHash) ? IntakeOutcome.AlreadyQuarantined : IntakeOutcome.Quarantined);

    // Notes in the quarantine what this one comes in place of: the same table with another mapping or none, its mapping when that came
    // alone, and an earlier state of the same contribution. Noted before it is kept, since only what is kept counts as an answer.
    private void AnswerOthers(PackageReading reading)
    {
        foreach (QuarantineReport other in store.SetAside.Like(reading))
        {
            bool isSameTable = reading.TableSha256 is { } table && other.TableSha256 == table;
            bool isItsMapping = reading.MappingSha256 == other.ContentHash;
            bool isSameContribution = reading.Header is { } header && other.ContributionId == header.ContributionId
                && other.ContributorId == header.ContributorId && other.Revision <= header.Revision;
            // too large to keep, or not to be opened
            bool isSameUnreadBefore = other.Source == reading.Name && store.SetAside.ReceivedPaths(other.ContentHash).Count == 0;
            if ((isSameTable || isItsMapping || isSameContribution || isSameUnreadBefore) && !IsAnswered(other))
                store.SetAside.Answer(other.ContentHash, reading.ContentHash);
        }
    }

    public bool IsAnswered(QuarantineReport report) =>
        store.FindAccepted(report.ContentHash) is not null
        || store.SetAside.AnsweredBy(report.ContentHash) is { } by
            && (store.FindAccepted(by) is not null || store.SetAside.Find(by) is not null)
        || report.ContributionId is { } id && store.AcceptedOf(id).Any(header => header.ContributorId == report.ContributorId
            && header.Revision >= report.Revision && header.Revision > report.AcceptedBefore);

    /// <summary>Whether an earlier verdict need not be looked at again.</summary>
    public bool IsStanding(QuarantineReport report)
    {
        bool isConflict = report.Findings is [{ Code: FindingCode.RevisionRepeated or FindingCode.ContributionIdTaken }];
        bool isTriedOnce = report is { Findings: [{ Code: FindingCode.TooCostly }], Tries: < 2 };
        return report.JudgedBy == JudgeOf(report.Mistake) && !isTriedOnce
            && !(isConflict && !store.AcceptedOf(report.ContributionId!)
                .Any(known => known.ContributorId != report.ContributorId || known.Revision == report.Revision));
    }

    private static string LateText(string name, ContributionHeader header, int highest) =>
        $"# Kept, but not used: {ReportText.Markdown(name)}\n\n"
        + $"Revision {header.Revision} of {header.ContributionId} is valid and was kept. "
        + $"A higher revision, {highest}, was accepted before it, and that is the one that counts.\n\n"
        + $"If this was meant as a correction, set `revision` to {highest + 1} and send the whole contribution again. "
        + "If it is an old state, nothing is to be done.\n";

    private Finding? Conflict(PackageReading reading, string contributionId, string contributorId, int revision)
    {
        foreach (ContributionHeader known in store.AcceptedOf(contributionId))
        {
            if (known.ContributorId != contributorId)
            {
                return new Finding(FindingCode.ContributionIdTaken, SchemaCatalogue.DescriptorName, null, "/name",
                    $"{contributionId}, which another contributor uses",
                    "a contribution id of your own", "choose another name; beginning it with your contributor id keeps it free");
            }

            if (known.Revision == revision)
                return RepeatedRevision.Of(reading, contributionId, revision, HighestRevision(contributionId) + 1);
        }
        return null;
    }

    // 0 where none was accepted.
    private int HighestRevision(string contributionId) =>
        store.AcceptedOf(contributionId).Select(known => known.Revision).DefaultIfEmpty().Max();

    // One that is still being copied into the inbox must not stop the others; the next run sees it whole.
    private static IntakeResult StillArriving(PackageReading reading) => IntakeResult.NotKept(new Finding(
        FindingCode.ChangedWhileRead, reading.Name, "content that changed while it was read", "a contribution that has arrived whole",
        "wait until it has, and run again; nothing was stored"), reading.ContributionId);
}
