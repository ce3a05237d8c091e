using System.Text;

namespace DecayAtlas.Pipeline.Mails;

/// <summary>The words of each mail, in the language of the group that gets it.</summary>
internal sealed class Letters(PipelineConfiguration configuration)
{
    private const int MostListed = 12;

    private const string Lost = "bag-lost";

    private string Front => configuration.Pages?.Languages is [var front, ..] ? front : "en";

    /// <summary>In the atlas: what counts, where it stands, what to look at.</summary>
    /// <param name="flags">Those of the contribution.</param>
    /// <param name="sites">Those of the contribution.</param>
    /// <param name="isCorrection">Whether an earlier revision of it was accepted.</param>
    /// <param name="replaced">Where it lacks burials of the revision before.</param>
    /// <param name="guesses">What was read otherwise than it was written.</param>
    public MailDraft Accepted(
        ReleasedContribution contribution, IReadOnlyList<ReleasedBurial> burials, IReadOnlyList<ReleasedResult> results,
        IReadOnlyList<ReleasedFlag> flags, IReadOnlyList<ReleasedSite> sites, bool isCorrection,
        ReplacedBurials? replaced, KeptGuesses? guesses)
    {
        (Language words, string? group, string called) = To(contribution.ContributorId, contribution.Campaign, contribution.ContributionId);
        int counted = burials.Count(b => b.GivesResult),
            means = results.Count(r => r.Use == "accepted" && r.LnRateMean is not null);
        MailKind kind = counted + means > 0 ? MailKind.Thanks : MailKind.Accepted;
        string id = contribution.ContributionId, of = kind == MailKind.Thanks ? "mail.thanks" : "mail.accepted";
        StringBuilder text = Begin(words, group);
        Paragraph(text, words.Say(of + (isCorrection ? ".correction" : ".text"), called, contribution.Revision));
        string why = kind == MailKind.Thanks ? "" : " " + WhyNone(burials, flags, words);
        if (burials.Count > 0)
            Paragraph(text, words.Say("mail.counts", counted, burials.Count) + why.TrimEnd());
        if (results.Count > 0)
            Paragraph(text, words.Say("mail.counts.means", means, results.Count));
        if (replaced is not null)
        {
            Paragraph(text, words.Say(replaced.Again == 0 ? "mail.replaced-all" : "mail.replaced", replaced.Now, replaced.Before,
                replaced.Again, contribution.Revision + 1));
        }
        // before the sheet, which invites to dig
        Paragraph(text, words["mail.caution"]);
        if (configuration.Pages is { } pages)
        {
            string language = pages.Languages.Contains(words.Code) ? words.Code : Front;
            // without an address nobody outside can open them, and the curator sends them
            string sent = pages.Address is null ? ".file" : "";
            Line(text, words.Say("mail.page" + sent, At(pages, GroupPages.PageOf(id, language, Front))));
            if (burials.Count > 0)
                Line(text, words.Say("mail.sheet" + sent, At(pages, GroupPages.SheetOf(id, language, Front))));
            text.Append('\n');
        }

        (IReadOnlyList<ReleasedFlag> mend, IReadOnlyList<ReleasedFlag> check, IReadOnlyList<ReleasedFlag> told) =
            GroupPages.FlagsOf(flags, burials, PagesStage.FlagMeanings);
        if (guesses?.Lines(words) is { Count: > 0 } lines)
        {
            Line(text, words["mail.guesses"]);
            foreach (string line in lines.Take(MostListed))
                Line(text, "- " + line);
            if (lines.Count > MostListed)
                Line(text, words.Say("mail.and-more", lines.Count - MostListed).Trim());
            text.Append('\n');
        }

        Dictionary<string, string> nameOf = sites.ToDictionary(s => s.SiteId, s => NameOf(s, words));
        Flags(text, "mail.mend", mend, nameOf, words);
        Flags(text, "mail.check", check, nameOf, words, guesses?.WordLines(words));
        Flags(text, "mail.told", told, nameOf, words);
        if (mend.Count + check.Count > 0 || guesses is not null)
        {
            Paragraph(text, words.Say("mail.again", id, contribution.Revision + 1, words["kit.sheet." + KitForm.About],
                words["drop.mends"]));
        }

        return Mail(id, kind, words, words.Say(of + ".subject", called), End(text, words));
    }

    /// <summary>Kept as history, since a higher revision counts.</summary>
    public MailDraft Late(ContributionHeader header, int counts)
    {
        (Language words, string? group, string called) = To(header.ContributorId, header.Campaign, header.ContributionId);
        StringBuilder text = Begin(words, group);
        Paragraph(text, words.Say("mail.late.text", header.Revision, header.ContributionId, counts, counts + 1));
        return Mail(Invariant($"{header.ContributionId}-{header.Revision}"), MailKind.Late, words,
            words.Say("mail.late.subject", called), End(text, words));
    }

    /// <summary>To be mended, or still to be mended: what to do, where, and what was found there.</summary>
    public MailDraft ToMend(IntakeResult open, CheckReport check, MailKind kind)
    {
        (Language words, string? group, string called) = To(open.ContributorId, open.Campaign, open.ContributionId ?? open.Source);
        string of = kind == MailKind.Reminder ? "mail.reminder" : "mail.to-mend";
        CheckTelling telling = CheckTelling.Of(check, words);
        StringBuilder text = Begin(words, group);
        Paragraph(text, words.Say(of + ".text", called));
        IReadOnlyList<IReadOnlyList<string>> rows = telling.Mend?.Rows ?? [];
        // that it is not ready to send is no news of what was sent
        bool isSaid = telling.First == words.Say("answer.mend", rows.Count);
        if (!isSaid || telling.Then.Count > 0)
            Paragraph(text, string.Join(" ", isSaid ? telling.Then : telling.Then.Prepend(telling.First)));
        foreach ((int i, IReadOnlyList<string> row) in rows.Take(MostListed).Index())
        {
            Line(text, Invariant($"{i + 1}. {row[0]}"));
            Line(text, $"   {row[1]}");
            Line(text, $"   {words.Say("mail.expected", row[2].TrimEnd('.'))}");
            Line(text, $"   {row[3]}");
        }

        if (rows.Count > MostListed)
            Line(text, words.Say("mail.more", rows.Count - MostListed));
        text.Append('\n');
        if (telling.Beside.Count > 0)
        {
            Line(text, $"{words["answer.look"]}. {words["answer.look.text"]}");
            foreach (string line in telling.Beside)
                Line(text, "- " + line);
            text.Append('\n');
        }

        Paragraph(text, words["mail.to-mend.how"]);
        if (configuration.Pages is { Address: not null } pages && CheckInOneFile.IsThere)
        {
            string language = pages.Languages.Contains(words.Code) ? words.Code : Front;
            Paragraph(text, words.Say("mail.to-mend.check", At(pages, GroupPages.CheckOf(language, Front))));
        }

        if (kind == MailKind.Reminder)
            Paragraph(text, words["mail.help"]);
        return Mail(open.ContributionId ?? PublicIntake.Of(open).ShortHash!, kind, words, words.Say(of + ".subject", called),
            End(text, words));
    }

    // what the group calls it; a hidden place has no name in a release, and its sender knows it by its row
    private static string NameOf(ReleasedSite site, Language words) => site.SiteName
        ?? (GroupPages.HiddenNumber(site) is { } number ? words.Say("mail.hidden-place", site.SiteId, Invariant($"{number}"))
            : site.SiteId);

    // what has a result and does not count has a flag, which is told below
    private static string WhyNone(IReadOnlyList<ReleasedBurial> burials, IReadOnlyList<ReleasedFlag> flags, Language words)
    {
        if (burials.Any(b => b.RatePerDay is not null))
            return words["mail.because.flagged"];
        HashSet<string> lost = [.. flags.Where(f => f is { Code: Lost, RecordKind: "bag" }).Select(f => f.RecordId)];
        string? reason = burials.Where(b => b.RateMissingBecause is not null).GroupBy(Why, StringComparer.Ordinal)
            .OrderByDescending(g => g.Count()).ThenBy(g => g.Key, StringComparer.Ordinal).FirstOrDefault()?.Key;
        return reason is not null && words.FindText("answer.because." + reason) is { } because
            ? $"{words.Say("mail.because", because)} {words.FindText("answer.todo." + reason)}".Trim() : "";

        // the mass of a lost bag is no slip
        string Why(ReleasedBurial b) => b.RateMissingBecause is "mass-not-reported" or "retrieval-not-reported"
            && new[] { b.FastBagId, b.SlowBagId }.OfType<string>().Any(lost.Contains) ? Lost : b.RateMissingBecause!;
    }

    private static void Flags(StringBuilder text, string head, IReadOnlyList<ReleasedFlag> flags,
        IReadOnlyDictionary<string, string> nameOf, Language words, IReadOnlyList<string>? before = null)
    {
        if (flags.Count == 0 && before is not { Count: > 0 })
            return;
        Line(text, words[head]);
        foreach (string line in before ?? [])
            Line(text, "- " + line);
        foreach (IGrouping<string, ReleasedFlag> flag in flags.GroupBy(f => f.Code).OrderBy(g => g.Key, StringComparer.Ordinal))
        {
            FlagMeaning? known = PagesStage.FlagMeanings.FirstOrDefault(m => m.Code == flag.Key);
            string meaning = words.FindText($"flag.{flag.Key}") ?? known?.Meaning ?? flag.Key;
            string mend = words.FindText($"flag.{flag.Key}.mend") ?? known?.Mend ?? "";
            string[] ids = [.. flag.Select(f => $"{words.Word(f.RecordKind)} {(f.RecordKind == "site"
                ? nameOf.GetValueOrDefault(f.RecordId, f.RecordId) : f.RecordId)}").Distinct(StringComparer.Ordinal)];
            string where = string.Join(", ", ids.Take(MostListed))
                + (ids.Length > MostListed ? words.Say("mail.and-more", ids.Length - MostListed) : "");
            Line(text, $"- {where}{words.Colon}{meaning} {mend}".TrimEnd());
        }

        text.Append('\n');
    }

    private static string At(PagesSection pages, string file) =>
        pages.Address is { } address ? $"{address.TrimEnd('/')}/{string.Join('/', file.Split('/').Select(Uri.EscapeDataString))}" : file;

    /// <param name="otherwise">What is said in place of a title where the campaign file has none.</param>
    private (Language Words, string? Group, string Called) To(string? contributorId, string? campaignId, string otherwise)
    {
        (Campaign Campaign, CampaignGroup Group)? known = CampaignFiles.GroupOf(configuration.Campaigns, contributorId, campaignId)
            ?? CampaignFiles.GroupOf(configuration.Campaigns, contributorId);
        Language words = CampaignFiles.WordsOf(configuration, contributorId, campaignId, Language.Find)!;
        return (words, known?.Group.Title, CampaignFiles.Called(configuration, contributorId, campaignId, words) ?? otherwise);
    }

    private static StringBuilder Begin(Language words, string? group)
    {
        StringBuilder text = new();
        Paragraph(text, group is null ? words["mail.hello"] : words.Say("mail.hello.group", group));
        return text;
    }

    private string End(StringBuilder text, Language words) =>
        text.Append($"{words["mail.greeting"]}\n{(configuration.Publisher == PipelineConfiguration.UnnamedPublisher
            ? words["mail.campaign"] : configuration.Publisher)}\n").ToString();

    private static void Paragraph(StringBuilder text, string sentences)
    {
        Line(text, sentences);
        text.Append('\n');
    }

    // what was received can break no line
    private static void Line(StringBuilder text, string line) => text.Append(ReceivedText.OneLine(line, ' ')).Append('\n');

    private static MailDraft Mail(string name, MailKind kind, Language words, string subject, string body) =>
        new($"{name}-{AtlasCode.Of(kind)}", kind, words.Code, ReceivedText.OneLine(subject, ' '), body);
}
