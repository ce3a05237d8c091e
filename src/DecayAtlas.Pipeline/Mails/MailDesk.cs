using System.Text;

namespace DecayAtlas.Pipeline.Mails;

/// <summary>Drafts the mails that a night gives occasion to: one for each contribution that was accepted, is to be mended, or has waited
/// for long. They lie in the atlas for the curator alone.</summary>
public static class MailDesk
{
    private const string StagingPrefix = ".making-";

    /// <summary>What was written: the folder, and how many of each kind.</summary>
    public sealed record Output(string Folder, IReadOnlyDictionary<string, int> Mails)
    {
        public string Sentence => $"Mails ready to send: {Mails.Values.Sum()} "
            + $"({string.Join(", ", Mails.Select(m => $"{m.Value} {m.Key}"))}), in {Folder}.";
    }

    /// <summary>Before anything is taken in: what an atlas holds when it gets its first register is no news.</summary>
    internal static void Begin(PipelineConfiguration configuration, DateTimeOffset started)
    {
        AtlasFolder atlas = new(configuration.Atlas);
        if (!configuration.Mails.On || MailRegister.Find(atlas) is not null)
            return;
        Intake intake = new(configuration.Atlas, configuration.Limits);
        AtlasFolder.MakePrivate(atlas.Mails);
        MailRegister.Begin(atlas,
            intake.AllHeaders().Select(h => h.ContentHash).Concat(intake.StillOpen().Select(open => open.ContentHash)), DayOf(started));
    }

    /// <returns>Missing where there was no occasion.</returns>
    /// <exception cref="StorageException">The disk refuses.</exception>
    internal static Output? Write(PipelineConfiguration configuration, IReadOnlyList<IntakeResult> open, DateTimeOffset started)
    {
        AtlasFolder atlas = new(configuration.Atlas);
        if (!configuration.Mails.On || MailRegister.Find(atlas) is not { } register)
            return null;
        Letters letters = new(configuration);
        Intake intake = new(configuration.Atlas, configuration.Limits);
        DateOnly today = DayOf(started);
        (MailDraft Mail, string Line)[] due =
        [
            .. Accepted(configuration, atlas, intake, register, letters, today),
            .. Waiting(configuration, open, intake, register, letters, today),
        ];
        if (due.Length == 0)
            return null;

        string folder = FolderOf(atlas, started);
        DurableFile.Guard(folder, () => Make(atlas, folder, [.. due.Select(d => d.Mail)], [.. due.Select(d => d.Line)]));
        register.Add(due.Select(d => d.Line));
        return new Output(folder, Tally.Of(due.Select(d => d.Mail), mail => AtlasCode.Of(mail.Kind)));
    }

    private static IEnumerable<(MailDraft, string)> Accepted(PipelineConfiguration configuration, AtlasFolder atlas, Intake intake,
        MailRegister register, Letters letters, DateOnly today)
    {
        Dictionary<string, ContributionHeader> counts = intake.ActiveHeaders().ToDictionary(h => h.ContributionId, StringComparer.Ordinal);
        ContributionHeader[] news = [.. intake.AllHeaders().Where(h => !register.Has(h.ContentHash, MailKind.Accepted)
            && !register.Has(h.ContentHash, MailKind.Thanks) && !register.Has(h.ContentHash, MailKind.Late))];
        if (news.Length == 0)
            yield break;
        ReleaseReader release = new(atlas);
        HashSet<string> hashes = [.. news.Select(h => h.ContentHash)];
        ReleasedContribution[] everything = [.. release.Rows(AtlasTables.Contributions)],
            released = [.. everything.Where(c => hashes.Contains(c.ContentHash))];
        Dictionary<string, string> contributorOf = everything.ToDictionary(c => c.ContributionId, c => c.ContributorId);
        HashSet<string> ids = [.. released.Select(c => c.ContributionId)];
        ILookup<string, ReleasedBurial> burials = Of(AtlasTables.Burials, b => b.ContributionId);
        ILookup<string, ReleasedResult> results = Of(AtlasTables.Results, r => r.ContributionId);
        ILookup<string, ReleasedSite> sites = Of(AtlasTables.Sites, s => s.ContributionId);
        ILookup<string, ReleasedFlag> flags = Of(AtlasTables.Flags, f => f.ContributionId),
            flagsOfSite = release.Rows(AtlasTables.Flags).Where(f => f.RecordKind == "site")
                .ToLookup(f => $"{contributorOf.GetValueOrDefault(f.ContributionId)}/{f.RecordId}");
        foreach (ReleasedContribution one in released)
        {
            ContributionHeader header = news.First(h => h.ContentHash == one.ContentHash);
            IEnumerable<ReleasedFlag> bearing = GroupPages.Bearing(one.ContributionId, flags[one.ContributionId],
                burials[one.ContributionId].Select(b => b.SiteKey).Distinct().SelectMany(site => flagsOfSite[site]));
            MailDraft mail = letters.Accepted(one, [.. burials[one.ContributionId]], [.. results[one.ContributionId]],
                [.. bearing], [.. sites[one.ContributionId]],
                intake.AllHeaders().Any(h => h.ContributionId == header.ContributionId && h.Revision < header.Revision),
                IngestStage.ReplacedBy(header, intake), intake.GuessesOf(header));
            yield return (mail, MailRegister.LineOf(one.ContentHash, mail.Kind, today));
        }

        foreach (ContributionHeader late in news.Where(h => counts[h.ContributionId].Revision > h.Revision))
        {
            yield return (letters.Late(late, counts[late.ContributionId].Revision),
                MailRegister.LineOf(late.ContentHash, MailKind.Late, today));
        }

        ILookup<string, TRow> Of<TRow>(Table<TRow> table, Func<TRow, string> id) where TRow : class =>
            release.Rows(table).Where(row => ids.Contains(id(row))).ToLookup(id, StringComparer.Ordinal);
    }

    // what the program could not examine is no matter of its sender
    private static IEnumerable<(MailDraft, string)> Waiting(PipelineConfiguration configuration, IReadOnlyList<IntakeResult> open,
        Intake intake, MailRegister register, Letters letters, DateOnly today)
    {
        foreach (IntakeResult one in open.Where(o => o.Mistake is null && o.ContentHash.Length > 0))
        {
            string digest = DigestOf(one);
            bool isNews = !register.Has(one.ContentHash, MailKind.ToMend, digest);
            bool isOld = register.WaitsSince(one.ContentHash) is { } since && !register.WasReminded(one.ContentHash)
                && today.DayNumber - since.DayNumber >= configuration.Mails.ReminderDays;
            if (!isNews && !isOld)
                continue;
            MailKind kind = isNews ? MailKind.ToMend : MailKind.Reminder;
            yield return (letters.ToMend(one, intake.CheckOf(one, today), kind), MailRegister.LineOf(one.ContentHash, kind, today, digest));
        }
    }

    // places and codes: that the program says the same in other words is no news
    private static string DigestOf(IntakeResult open) => InputDigest.Of(open.Findings.SelectMany(f =>
        new[] { f.Code, f.File, f.Sheet ?? "", f.Column ?? "", Invariant($"{f.Row}") }))[..12];

    // the drafts lie there whole or not at all
    private static void Make(AtlasFolder atlas, string folder, IReadOnlyList<MailDraft> mails, IReadOnlyList<string> lines)
    {
        AtlasFolder.MakePrivate(atlas.Mails);
        foreach (string leftover in Directory.EnumerateDirectories(atlas.Mails, StagingPrefix + "*"))
            Directory.Delete(leftover, recursive: true);
        string staging = Path.Combine(atlas.Mails, StagingPrefix + Path.GetFileName(folder));
        Directory.CreateDirectory(staging);
        HashSet<string> taken = new(StringComparer.OrdinalIgnoreCase);
        StringBuilder all = new();
        foreach (MailDraft mail in mails)
        {
            string name = mail.Name;
            for (int n = 2; !taken.Add(name); n++)
                name = Invariant($"{mail.Name}-{n}");
            DurableFile.CreateText(Path.Combine(staging, name + ".eml"), mail.ToEml());
            all.Append(all.Length == 0 ? "" : $"\n{new string('-', 72)}\n\n").Append(mail.ToText());
        }

        DurableFile.CreateText(Path.Combine(staging, "all.txt"), all.ToString());
        DurableFile.CreateText(Path.Combine(staging, MailRegister.LinesName), string.Concat(lines.Select(line => line + "\n")));
        Directory.Move(staging, folder);
    }

    private static string FolderOf(AtlasFolder atlas, DateTimeOffset started)
    {
        string first = Path.Combine(atlas.Mails, Invariant($"{started.UtcDateTime:yyyy-MM-dd'T'HHmmss'Z'}")), folder = first;
        for (int n = 2; Directory.Exists(folder); n++)
            folder = Invariant($"{first}-{n}");
        return folder;
    }

    private static DateOnly DayOf(DateTimeOffset started) => DateOnly.FromDateTime(started.UtcDateTime);
}
