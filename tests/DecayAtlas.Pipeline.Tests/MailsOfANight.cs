using System.Text;

namespace DecayAtlas.Pipeline.Tests;

/// <summary>The drafts that a night writes to senders.</summary>
public sealed class MailsOfANight : IDisposable
{
    internal const string Campaign = """
        version: 1
        campaign: hollow-2024
        protocol: hollow-pairs-1
        language: de
        lots:
          - { lot_id: Marl-1, role: fast, hydrolysable_fraction: 0.7, hydrolysable_fraction_sd: 0.02 }
          - { lot_id: Marl-2, role: slow, hydrolysable_fraction: 0.5, hydrolysable_fraction_sd: 0.02 }
        bags: { mass_basis: gross, drying_initial: oven, drying: oven }
        groups:
          - { id: hollow-school, title: School in the Hollow }
          - { id: brook-club, title: Club at the Brook, language: es }

        """;

    private readonly SmallAtlas _atlas = new(
        "campaigns: [campaign.yaml]\nmails: { reminder_days: 10 }\npages: { languages: [en, de], address: \"https://soil.example/pages/\" }\n");

    public MailsOfANight() => File.WriteAllText(_atlas.PathOf("campaign.yaml"), Campaign);

    public void Dispose() => _atlas.Dispose();

    private static string Broken(string file, string text) =>
        file == "bags.csv" ? text.Replace("2024-", "2024-13-", StringComparison.Ordinal) : text;

    private string Folder => _atlas.PathOf("atlas/mails");

    private string[] Nights => [.. Directory.GetDirectories(Folder).Order(StringComparer.Ordinal)];

    private string[] Names => [.. Nights.SelectMany(night => Directory.GetFiles(night, "*.eml")).Select(path => Path.GetFileName(path))
        .Order(StringComparer.Ordinal)];

    private string Text(string name) => File.ReadAllText(Nights.Select(night => Path.Combine(night, name)).Single(File.Exists));

    [Fact]
    public void Each_contribution_has_one_draft_in_the_language_of_its_group_and_an_unchanged_night_writes_none()
    {
        _atlas.Receives("c1", "hollow-school").Receives("c2", "brook-club", edit: Broken).Receives("c3", "others");

        RunRecord night = _atlas.Night();

        Assert.Equal(["c1-thanks.eml", "c2-to-mend.eml", "c3-thanks.eml"], Names);
        Assert.Equal(["1 to-mend", "2 thanks"], night.Mails!.Mails.OrderBy(m => m.Value).Select(m => $"{m.Value} {m.Key}"));
        Assert.Contains(night.Mails.Folder, _atlas.Summary, StringComparison.Ordinal);
        string german = Text("c1-thanks.eml");
        Assert.StartsWith("Subject: Danke: School in the Hollow ist im Atlas\r\nX-Unsent: 1\r\n", german, StringComparison.Ordinal);
        Assert.Contains("Hallo School in the Hollow,", german, StringComparison.Ordinal);
        Assert.Contains("https://soil.example/pages/de/contributions/c1.html", german, StringComparison.Ordinal);
        Assert.Contains("https://soil.example/pages/de/class/c1.html", german, StringComparison.Ordinal);
        // before the sheet, which invites to dig
        Assert.InRange(german.IndexOf("Kabel", StringComparison.Ordinal), 0, german.IndexOf("/class/c1.html", StringComparison.Ordinal));
        string mend = Text("c2-to-mend.eml");
        Assert.Contains("Content-Language: es", mend, StringComparison.Ordinal);
        Assert.Contains("2024-13-05", mend, StringComparison.Ordinal);   // to its sender what was found is told
        string back = Assert.Single(Directory.GetFiles(_atlas.PathOf("atlas/quarantine"), "report.md", SearchOption.AllDirectories));
        Assert.StartsWith("# Todavía no está en el atlas", File.ReadAllText(back), StringComparison.Ordinal);
        Assert.Contains("Hello,\r\n", Text("c3-thanks.eml"), StringComparison.Ordinal);
        Assert.Contains("https://soil.example/pages/contributions/c3.html", Text("c3-thanks.eml"), StringComparison.Ordinal);

        RunRecord again = _atlas.Night();
        Assert.Null(again.Mails);
        Assert.Single(Nights);
    }

    // 19.4 g where 4.12 g were buried: the decimal sign is one place off, and 1.94 g is what the example weighed
    [Fact]
    public void What_the_check_guessed_stands_in_the_mail_and_on_the_page_of_the_group_and_so_does_a_correction_that_waits()
    {
        _atlas.Receives("c1", "hollow-school", edit: (file, text) =>
            file == "bags.csv" ? text.Replace(",4.12,1.94,", ",4.12,19.4,", StringComparison.Ordinal) : text);
        _atlas.Night();

        (string mail, string page) = (Text(Names.Single()), _atlas.PathOf("atlas/current/pages/de/contributions/c1.html"));
        Assert.Contains("19,40 g", mail, StringComparison.Ordinal);
        Assert.Contains("Sind es 1,94 g? Dann berichtigt das Dezimalzeichen.", mail, StringComparison.Ordinal);
        Assert.Contains("nachher: 19,40 g. Sind es 1,94 g?", File.ReadAllText(page), StringComparison.Ordinal);
        Assert.DoesNotContain("waiting-", File.ReadAllText(page), StringComparison.Ordinal);

        _atlas.Receives("c1", "hollow-school", revision: 2, edit: Broken);
        _atlas.Night();

        Assert.Contains("Eine neuere Datei von euch ist angekommen", File.ReadAllText(page), StringComparison.Ordinal);
        string waiting = Directory.GetFiles(Path.GetDirectoryName(page)!, "waiting-*.html").Single();
        Assert.Contains(Path.GetFileName(waiting), File.ReadAllText(page), StringComparison.Ordinal);
        Assert.Contains("<h1>School in the Hollow</h1>", File.ReadAllText(waiting), StringComparison.Ordinal);
        Assert.DoesNotContain("decayatlas check", File.ReadAllText(waiting), StringComparison.Ordinal);
    }

    // one day that is none, a mass whose decimal sign slipped (1.94 g weighed), a bag at 80 cm, and the example's lost bag
    [Fact]
    public void Mail_and_report_of_what_is_to_be_mended_tell_all_that_the_check_of_the_same_file_tells()
    {
        _atlas.Receives("c1", "hollow-school", edit: (file, text) => file != "bags.csv" ? text
            : text.Replace(",4.12,1.94,", ",4.12,19.4,", StringComparison.Ordinal)
                .Replace(",4.04,1.86,gross,oven,,,oven,70,,,,2024-05-14", ",4.04,1.86,gross,oven,,,oven,70,,,,2024-13-14",
                    StringComparison.Ordinal)
                .Replace(",8,roots,", ",80,roots,", StringComparison.Ordinal));
        PipelineConfiguration configuration = _atlas.Read();
        CheckReport check = new("c1-1", ContributionReader.Read(_atlas.PathOf("inbox/c1-1"), configuration.Limits),
            DateOnly.FromDateTime(DateTime.UtcNow));
        CheckTelling telling = CheckTelling.Of(check, Language.Find("de")!);

        _atlas.Night();

        string mail = Text("c1-to-mend.eml");
        string report = File.ReadAllText(Assert.Single(
            Directory.GetFiles(_atlas.PathOf("atlas/quarantine"), "report.md", SearchOption.AllDirectories)));
        Assert.Contains("Sind es 1,94 g?", Assert.Single(telling.Look!.Lines, line => line.Contains("19,40", StringComparison.Ordinal)),
            StringComparison.Ordinal);
        foreach (string told in (string[])["Sind es 1,94 g?", "2024-13-14", "Tiefe (cm): 8 bis 80", "(wood-1-2). Grund: ein Beutel ging verloren"])
        {
            Assert.Contains(told, mail, StringComparison.Ordinal);
            Assert.Contains(told, report, StringComparison.Ordinal);
        }

        Assert.All(telling.Look.Lines, line => Assert.Contains("- " + line, mail, StringComparison.Ordinal));
        Assert.All(telling.Gate!.Rows.Where(row => row[3] != "wie üblich"), row =>
            Assert.Contains($"- {row[0]}: {row[1]} (üblich: {row[2]}); {row[3]}.", mail, StringComparison.Ordinal));
        // errors first
        Assert.InRange(mail.IndexOf("2024-13-14", StringComparison.Ordinal), 0, mail.IndexOf("Sind es", StringComparison.Ordinal));
        // a bag whose row could not be read is no missing bag
        Assert.DoesNotContain("(meadow-1-2)", mail, StringComparison.Ordinal);
        Assert.StartsWith("# Noch nicht im Atlas: School in the Hollow\n", report, StringComparison.Ordinal);
        Assert.DoesNotContain("received/", report, StringComparison.Ordinal);
        Assert.Contains("## School in the Hollow\n", File.ReadAllText(_atlas.PathOf("atlas/quarantine/waiting.md")),
            StringComparison.Ordinal);
    }

    [Fact]
    public void A_correction_is_thanked_for_as_one_and_pages_without_an_address_come_from_the_curator()
    {
        string settings = _atlas.PathOf("p.yaml");
        File.WriteAllText(settings, File.ReadAllText(settings)
            .Replace(", address: \"https://soil.example/pages/\"", "", StringComparison.Ordinal));
        _atlas.Receives("c1", "hollow-school").Night();
        _atlas.Receives("c1", "hollow-school", revision: 2, edit: (file, text) =>
            file == "bags.csv" ? text.Replace(",4.12,1.94,", ",4.13,1.94,", StringComparison.Ordinal) : text).Night();

        string[] mails = [.. Nights.Select(night => File.ReadAllText(Path.Combine(night, "c1-thanks.eml")))];
        Assert.Equal(2, mails.Length);
        Assert.Contains("Euer Beitrag School in the Hollow (Fassung 1)", mails[0], StringComparison.Ordinal);
        Assert.DoesNotContain("ersetzt", mails[0], StringComparison.Ordinal);
        Assert.Contains("Eure Berichtigung von School in the Hollow (Fassung 2) ist im Atlas und ersetzt", mails[1],
            StringComparison.Ordinal);
        Assert.All(mails, mail => Assert.Contains("Eure Seite schickt euch die Kampagnenleitung", mail, StringComparison.Ordinal));
        Assert.All(mails, mail => Assert.DoesNotContain("Eure Seite: ", mail, StringComparison.Ordinal));
    }

    [Fact]
    public void A_word_that_is_none_of_its_list_is_to_be_looked_at_in_mail_and_page()
    {
        _atlas.Receives("c1", "hollow-school", edit: (file, text) =>
            file == "sites.csv" ? text.Replace(",grassland,", ",glade,", StringComparison.Ordinal) : text);
        _atlas.Night();

        string mail = Text("c1-thanks.eml"), page = File.ReadAllText(_atlas.PathOf("atlas/current/pages/de/contributions/c1.html"));
        int asked = mail.IndexOf(Language.Find("de")!["mail.check"], StringComparison.Ordinal);
        Assert.InRange(asked, 0, mail.IndexOf("'glade'", StringComparison.Ordinal));
        Assert.Contains("als Fassung 2: In der Mappe der Kampagne steht sie auf dem Blatt „Über uns“; sonst setzt auf der Prüfseite", mail, StringComparison.Ordinal);
        Assert.Contains("<h2>Bitte nachsehen</h2>", page, StringComparison.Ordinal);
        Assert.Contains("Spalte ecosystem", page, StringComparison.Ordinal);
        Assert.DoesNotContain("Es gibt nichts zu berichtigen", page, StringComparison.Ordinal);
    }

    // the example's lost bag gives its burial no k: pages, mails and the summary say the same three of four
    [Fact]
    public void A_night_counts_burials_as_pages_and_mails_do()
    {
        RunRecord night = _atlas.Receives("c1", "hollow-school").Night();

        Assert.Contains($"{night.BurialsThatCount} von 4 Vergrabungen", Text("c1-thanks.eml"), StringComparison.Ordinal);
        Assert.Contains($"Burials: {night.BurialsThatCount} of 4 count", _atlas.Summary, StringComparison.Ordinal);
        Assert.Contains($"{night.BurialsThatCount} von 4 Vergrabungen zählen",
            File.ReadAllText(_atlas.PathOf("atlas/current/pages/de/contributions/c1.html")), StringComparison.Ordinal);
    }

    // the packages are of the campaign example-2024, and no group of it is called "others"
    [Fact]
    public void Mail_and_report_are_in_one_language_also_for_a_group_that_its_campaign_does_not_list()
    {
        File.WriteAllText(_atlas.PathOf("campaign.yaml"), Campaign.Replace("campaign: hollow-2024",
            "campaign: example-2024\ntitle: { de: Beutel im Boden, es: Bolsas en el suelo }", StringComparison.Ordinal));
        foreach ((string name, string contributor) in new[] { ("c1", "others"), ("c2", "brook-club"), ("c3", "hollow-school") })
            _atlas.Receives(name, contributor, edit: Broken);

        _atlas.Night();

        Dictionary<string, string> reports = Directory.GetFiles(_atlas.PathOf("atlas/quarantine"), "report.md", SearchOption.AllDirectories)
            .Select(File.ReadAllText).ToDictionary(report => new[] { "c1", "c2", "c3" }.Single(id =>
                report.Contains($"`{id}`", StringComparison.Ordinal) || report.Contains($" {id}  \n", StringComparison.Ordinal)));
        Assert.Contains("Content-Language: de", Text("c1-to-mend.eml"), StringComparison.Ordinal);
        Assert.StartsWith("# Noch nicht im Atlas", reports["c1"], StringComparison.Ordinal);
        Assert.Contains("Content-Language: es", Text("c2-to-mend.eml"), StringComparison.Ordinal);
        Assert.StartsWith("# Todavía no está en el atlas", reports["c2"], StringComparison.Ordinal);
        // the title of the campaign is that of the mail's language
        Assert.Contains("Club at the Brook («Bolsas en el suelo»)", Text("c2-to-mend.eml"), StringComparison.Ordinal);
        Assert.Contains("School in the Hollow („Beutel im Boden“)", Text("c3-to-mend.eml"), StringComparison.Ordinal);
    }

    // three of the example's four burials have a k, and one bag was lost; 80 cm is deeper than any protocol buries
    [Fact]
    public void Why_nothing_counts_is_the_reason_of_those_that_have_none_and_else_what_set_them_aside()
    {
        _atlas.Receives("c1", "hollow-school", edit: (file, text) => file != "bags.csv" ? text
            : text.Replace(",8,intact,", ",80,intact,", StringComparison.Ordinal)
                .Replace(",8,roots,", ",80,roots,", StringComparison.Ordinal));
        // samples of bags that are not there go with them
        _atlas.Receives("c2", "hollow-school", edit: (file, text) => file is not ("bags.csv" or "samples.csv") ? text
            : string.Join('\n', text.ReplaceLineEndings("\n").Split('\n').Where((line, i) => i == 0
                || (file == "bags.csv" && line.StartsWith("wood-1-2", StringComparison.Ordinal)))) + "\n");

        _atlas.Night();

        string deep = Text("c1-accepted.eml"), lost = Text("c2-accepted.eml");
        Assert.Contains("0 von 4 Vergrabungen zählen. Die mit einem Ergebnis sind beiseitegelegt; warum, steht unten.", deep,
            StringComparison.Ordinal);
        Assert.DoesNotContain("eine Wägung fehlt", deep, StringComparison.Ordinal);
        Assert.Contains("Der Grund: ein Beutel ging verloren. Dort ist nichts zu berichtigen", lost, StringComparison.Ordinal);
    }

    [Fact]
    public void The_same_inbox_gives_the_same_bytes()
    {
        using SmallAtlas other = new(File.ReadAllText(_atlas.PathOf("p.yaml")).Split("decisions: d.yaml\n")[1]);
        File.WriteAllText(other.PathOf("campaign.yaml"), Campaign);
        foreach (SmallAtlas atlas in new[] { _atlas, other })
        {
            atlas.Receives("c1", "hollow-school").Receives("c2", "brook-club", edit: Broken);
            atlas.Night();
        }

        string there = Directory.GetDirectories(other.PathOf("atlas/mails")).Single();
        Assert.All(Directory.GetFiles(Nights.Single(), "*.eml"),
            path => Assert.Equal(File.ReadAllBytes(path), File.ReadAllBytes(Path.Combine(there, Path.GetFileName(path)))));
    }

    [Fact]
    public void What_an_atlas_held_before_its_first_register_is_no_news()
    {
        _atlas.Receives("c1", "hollow-school");
        _atlas.Night();
        Directory.Delete(Folder, recursive: true);
        _atlas.Receives("c2", "brook-club");

        _atlas.Night();

        Assert.Equal(["c2-thanks.eml"], Names);
    }

    [Fact]
    public void A_run_that_is_killed_leaves_no_half_drafts_and_none_is_lost_or_written_twice()
    {
        // killed after it took the inbox in: the next run drafts what it did not
        _atlas.Receives("c1", "hollow-school");
        MailDesk.Begin(_atlas.Read(), DateTimeOffset.UtcNow);
        Flow.Execute(_atlas.Read(), _atlas, "ingest");
        Assert.Empty(Nights);
        Directory.CreateDirectory(Path.Combine(Folder, ".making-half"));
        _atlas.Night();
        Assert.Equal(["c1-thanks.eml"], Names);
        Assert.False(Directory.Exists(Path.Combine(Folder, ".making-half")));

        // killed between the drafts and the register, which is then as it was before them
        File.WriteAllText(Path.Combine(Folder, "register.txt"), "");
        _atlas.Night();
        Assert.Equal(["c1-thanks.eml"], Names);
    }

    [Fact]
    public void What_waits_longer_than_the_setting_is_reminded_of_once()
    {
        _atlas.Receives("c2", "brook-club", edit: Broken);
        RunRecord night = _atlas.Night();
        IReadOnlyList<IntakeResult> open = new Intake(_atlas.Atlas.Root, IntakeLimits.Default, mayWrite: false).StillOpen();
        PipelineConfiguration configuration = _atlas.Read();

        Assert.Null(MailDesk.Write(configuration, open, night.StartedAt.AddDays(9)));
        MailDesk.Output reminded = MailDesk.Write(configuration, open, night.StartedAt.AddDays(11))!;
        Assert.Equal(["c2-reminder.eml"], Directory.GetFiles(reminded.Folder, "*.eml").Select(path => Path.GetFileName(path)));
        Assert.Contains("2024-13-05", Text("c2-reminder.eml"), StringComparison.Ordinal);
        Assert.Null(MailDesk.Write(configuration, open, night.StartedAt.AddDays(40)));
    }

    [Fact]
    public void An_older_revision_that_comes_late_is_told_to_its_sender()
    {
        _atlas.Receives("c1", "hollow-school", revision: 3);
        _atlas.Night();
        _atlas.Receives("c1", "hollow-school", revision: 2);

        _atlas.Night();

        Assert.Contains("Fassung 2 von c1 kam nach Fassung 3", Text("c1-2-late.eml"), StringComparison.Ordinal);
        Assert.Contains("als Fassung 4", Text("c1-2-late.eml"), StringComparison.Ordinal);
    }

    // the example's burials under other names: a table of other holes that was sent as a correction
    [Fact]
    public void A_revision_that_lacks_the_burials_before_says_so_to_its_sender_and_in_the_run()
    {
        _atlas.Receives("c1", "hollow-school");
        _atlas.Night();
        int burials = File.ReadAllLines(_atlas.PathOf("inbox/c1-1/bags.csv")).Skip(1).Select(line => line.Split(',')[1]).Distinct().Count();
        _atlas.Receives("c1", "hollow-school", revision: 2, edit: (file, text) => file != "bags.csv" ? text : string.Join('\n',
            text.ReplaceLineEndings("\n").Split('\n').Select((line, i) => i == 0 || line.Split(',') is not [var bag, var burial, .. var rest]
                ? line : string.Join(',', [bag, burial + "x", .. rest]))));

        IngestStage.Output taken = Flow.Execute(_atlas.Read(), _atlas, "ingest").Result.Intake!;
        Assert.Contains($"revision 2 of c1 holds {burials} burials, the one before {burials}, none of them the same", taken.Sentence,
            StringComparison.Ordinal);

        _atlas.Night();

        string said = Nights.SelectMany(night => Directory.GetFiles(night, "*.eml")).Select(File.ReadAllText)
            .Single(mail => mail.Contains("die vorige", StringComparison.Ordinal));
        Assert.Contains($"Diese Fassung enthält {burials} Vergrabungen, die vorige {burials}, keine davon dieselbe", said,
            StringComparison.Ordinal);
    }

    [Fact]
    public void No_draft_is_written_where_none_is_wanted()
    {
        File.WriteAllText(_atlas.PathOf("p.yaml"),
            File.ReadAllText(_atlas.PathOf("p.yaml")).Replace("reminder_days: 10", "on: false", StringComparison.Ordinal));
        _atlas.Receives("c1", "hollow-school");
        _atlas.Night();
        Assert.False(Directory.Exists(Folder));
    }

    // RFC 2047, sections 2 and 8: encoded words of at most 75 letters, each of whole characters; RFC 5322, 2.1.1: lines of at most 998
    // bytes
    [Fact]
    public void A_subject_in_other_letters_is_encoded_and_no_line_is_too_long()
    {
        string subject = string.Concat(Enumerable.Repeat("Süßgräser über Österreich ", 8)).Trim();
        string[] lines = new MailDraft("x", MailKind.Thanks, "de", subject, string.Concat(Enumerable.Repeat("äußerst langes Wort ", 200)))
            .ToEml().Split("\r\n");

        string[] head = [.. lines.TakeWhile(line => !line.StartsWith("X-Unsent", StringComparison.Ordinal))];
        string[] words = [.. head.Select(line => line.Replace("Subject: ", "", StringComparison.Ordinal).Trim())];
        Assert.True(words.Length > 3);
        Assert.All(words, word => Assert.True(word.Length <= 75 && word.StartsWith("=?utf-8?B?", StringComparison.Ordinal)));
        Assert.Equal(subject, string.Concat(words.Select(word => Encoding.UTF8.GetString(Convert.FromBase64String(word[10..^2])))));
        Assert.All(lines, line => Assert.True(Encoding.UTF8.GetByteCount(line) <= 998));
    }
}
