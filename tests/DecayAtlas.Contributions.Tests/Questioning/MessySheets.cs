using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;

namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>Sheets as people make them, each with its truth, written by somebody who had not seen the program; k and S of the truth come
/// from a script of its own.</summary>
public partial class MessySheets(ITestOutputHelper output)
{
    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "sheets");

    private static readonly DateOnly Today = new(2026, 11, 28);

    public static TheoryData<string> Names => [.. Directory.GetDirectories(Folder).Select(folder => Path.GetFileName(folder))
        .Order(StringComparer.Ordinal)];

    /// <param name="Untold">What the truth wants told, and was not.</param>
    private sealed record Ending(string Sheet, int Decisions, string[] Open, string[] Findings, string[] Wrong, string[] Untold)
    {
        public bool IsRight => Open.Length + Findings.Length + Wrong.Length == 0;
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void A_sheet_ends_in_the_right_numbers_or_in_a_plain_question(string sheet)
    {
        Ending ending = End(sheet);
        output.WriteLine(Line(ending));
        Assert.Empty(ending.Wrong);
        Assert.True(ending.Untold.Length == 0, string.Join("\n", ending.Untold));
    }

    [Fact]
    public void All_but_a_few_sheets_end_in_the_right_numbers()
    {
        Ending[] endings = [.. Names.Select(name => End((string)name.Data!))];
        foreach (Ending ending in endings.Where(ending => !ending.IsRight))
            output.WriteLine(Line(ending));
        Assert.Equal(Unfinished, endings.Where(ending => !ending.IsRight).Select(ending => ending.Sheet));
    }

    [Fact]
    public void Half_of_the_sheets_need_five_decisions_or_fewer()
    {
        Ending[] endings = [.. Names.Select(name => End((string)name.Data!))];
        foreach (Ending ending in endings)
            output.WriteLine(Line(ending));
        int[] decisions = [.. endings.Where(ending => ending.IsRight).Select(ending => ending.Decisions).Order()];
        Assert.InRange(decisions[decisions.Length / 2], 0, 5);
    }

    private static string Line(Ending ending) =>
        $"{ending.Sheet}: {(ending.IsRight ? "right" : ending.Wrong.Length > 0 ? "WRONG" : "open")}, "
        + $"{ending.Decisions} decisions {string.Join("; ", ending.Open.Select(o => "? " + o).Concat(ending.Findings.Select(f => "! " + f)).Concat(ending.Wrong.Select(w => "# " + w)).Take(8))}";

    private static Ending End(string sheet)
    {
        string folder = Path.Combine(Folder, sheet);
        using JsonDocument document = JsonDocument.Parse(File.ReadAllBytes(Path.Combine(folder, "truth.json")));
        JsonElement truth = document.RootElement;
        string file = Path.Combine(folder, truth.GetProperty("file").GetString()!);
        string language = truth.GetProperty("language").GetString()!;
        Campaign campaign = CampaignOf(Path.Combine(Folder, truth.GetProperty("campaign").GetString()!), language);
        TruthAnswers knows = new(truth);
        Dictionary<string, string> answers = [];
        Inquiry inquiry;
        while (true)
        {
            inquiry = SheetInquiry.Of(file, campaign, answers, SenderWords.Find(language)!, IntakeLimits.Default, Today);
            Question? next = inquiry.Questions.FirstOrDefault(question => !answers.ContainsKey(question.Id)
                && knows.To(question) is not null);
            if (next is null)
                break;
            answers[next.Id] = knows.To(next)!;
        }
        string[] open = [.. inquiry.Questions.Select(question => $"{question.Id} {question.Text}")];
        if (inquiry.Mapping is null)
        {
            return new Ending(sheet, answers.Count, open, [.. inquiry.Findings.Select(finding => finding.ToString())], [],
                [.. Untold(truth, inquiry.Told, [.. answers.Keys, .. inquiry.Questions.Select(question => question.Id)],
                    inquiry.Findings, null)]);
        }
        string mapping = Path.Combine(Directory.CreateTempSubdirectory("messy-").FullName, "sheet.mapping.yaml");
        File.WriteAllText(mapping, inquiry.Mapping);
        if (Environment.GetEnvironmentVariable("DECAYATLAS_MAPPINGS") is { } keep)
            File.WriteAllText(Path.Combine(keep, sheet + ".yaml"), inquiry.Mapping);
        ReadResult read = ContributionReader.Read(file, IntakeLimits.Default, mapping);
        string[] findings = [.. read.Findings.Take(4).Select(finding => finding.ToString())];
        JsonElement lots = LotsOf(Path.Combine(Folder, truth.GetProperty("campaign").GetString()!));
        string[] wrong = read.SoundRows is null ? [] : [.. Differences(truth, lots, read.SoundRows, isWhole: findings.Length == 0)];
        return new Ending(sheet, answers.Count, open, findings, wrong, [.. Untold(truth, inquiry.Told, answers.Keys, [], read)]);
    }

    // by the sentences of the truth: what was told under a code, asked, or stands as the condition of bags
    private static IEnumerable<string> Untold(JsonElement truth, IReadOnlyList<Told> told, IEnumerable<string> asked,
        IReadOnlyList<Finding> findings, ReadResult? read)
    {
        foreach (string sentence in truth.GetProperty("must_tell").EnumerateArray().Select(one => one.GetString()!))
        {
            Match number = LeadingNumber().Match(sentence);
            int least = number.Success ? int.Parse(number.Value, CultureInfo.InvariantCulture) : 1;
            BagCondition? condition = sentence.Contains("lost bag", StringComparison.Ordinal) ? BagCondition.Lost
                : Regex.IsMatch(sentence, @"\btorn\b") ? BagCondition.Torn
                : sentence.Contains("raíces", StringComparison.Ordinal) ? BagCondition.Roots : null;
            if (condition is not null)
            {
                if (read?.SoundRows is { } rows && rows.Bags.Count(bag => bag.Condition == condition) != least)
                    yield return sentence;
                continue;
            }
            if (Array.Exists(SeenInRows, seen => sentence.Contains(seen, StringComparison.Ordinal)))
                continue;
            if (Array.Exists(Refused, refused => sentence.Contains(refused.Sentence, StringComparison.Ordinal)
                && findings.Any(finding => finding.Found.Contains(refused.Found, StringComparison.Ordinal))))
            {
                continue;
            }
            string[] codes = [.. Telling.Where(entry => Regex.IsMatch(sentence, entry.Sentence)).SelectMany(entry =>
                entry.Codes.Split(' '))];
            bool isTold = told.Where(one => codes.Contains(one.Code)).Sum(one => one.Count) >= least;
            // how many stand in a question is not known here
            bool isAsked = asked.Any(id => codes.Contains(id.Split(':')[0].Replace('.', '-')));
            if (!isTold && !isAsked)
                yield return $"{sentence} [{string.Join(' ', codes)}]";
        }
    }

    [GeneratedRegex(@"\A\d+(?= )")]
    private static partial Regex LeadingNumber();

    /// <summary>Sentences of the truth, and the codes under which the program tells the same.</summary>
    private static readonly (string Sentence, string Codes)[] Telling =
    [
        (@"(mean|Mean|SD|Summe|Total|media|Moyenne|Moy\.|Mittelwert|[Aa]verage|Average) rows? |Media columns",
            "layout-aggregate-rows layout-aggregate"),
        (@"unit row", "layout-unit-row"),
        (@"hidden rows?", "layout-hidden-rows layout-hidden-rows-left layout-hidden-lines"),
        (@"hidden sheet", "layout-hidden-sheets layout-hidden-sheet-rows"),
        (@"hidden column", "hidden-column layout-hidden-columns"),
        (@"^header repeated", "layout-header-repeated"),
        (@"[Dd]it(t)?o", "layout-ditto-filled"),
        (@"merged cells|rowspan", "layout-merged-filled"),
        (@"^comments?:", "layout-comments"),
        (@"on its side", "layout-turned"),
        (@"^(title lines|text around|footer|footnote|footer note|\d lines above|\d title lines|\d footer)",
            "layout-lines layout-title-lines layout-side-tables lines"),
        (@"joined", "layout-key-joined layout-sheets-joined"),
        (@"tables one under another", "layout-tables-joined layout-title-lines"),
        (@"^tare table beside|^lot table beside", "layout-side-tables layout-key-joined"),
        (@"do not match exactly", "layout-key-alike"),
        (@"^O (read as|in the coordinates)", "o-half o-by-country"),
        (@"^\d (yellow|pink|grey|red) rows?", "colour"),
        (@"by the legend|\(legend\)", "role-by-legend"),
        (@"two-digit years", "date-century"),
        (@"thousand", "thousands"),
        (@"^HTML saved", "layout-web-page"),
        (@"^sheet .* left out", "layout-side-tables layout-hidden-sheets"),
        (@"loss column", "computed-left-out"),
        (@"stand in lines above|in a footer", "lines layout-lines"),
        (@"pupils' names|are not masses", "columns-not-read"),
        (@"mean of ten bags", "one-mass"),
        (@"instead of the final mass|masse?s? (is|are)? ?computed", "loss remaining change"),
        (@"in mg", "layout-unit-row unit-by-values thousands"),
        (@"turned over", "date-turned"),
        (@"in the (mass )?cells?( |$)", "unit-in-cells"),
        (@"of the litter alone", "basis-column"),
        (@"air-dry", "drying-said"),
        (@"stands once a pair", "layout-blank-filled layout-merged-filled"),
        (@"UTM", "place-projected"),
        (@"without a year", "date-year"),
        (@"day first", "date-order day-first"),
        (@"month/day", "month-first"),
        (@"decimal dot among commas", "both-signs"),
        (@"start again at each place", "burial-ids"),
        (@"day numbers", "date-serial"),
        (@"without start", "layout-key-unmatched"),
        (@"header and page line", "layout-header-repeated"),
        (@"both masses net", "basis-comment"),
        (@"^header of", "layout-header-rows"),
        (@"coordinates$", "place"),
        (@"k and S only", "results-only"),
        (@"two units", "rate-scaled"),
        (@"beside each other|in another order", "layout-key-joined layout-tables-joined"),
        (@"^notes? in|^note: ", "beside layout-comments"),
    ];

    /// <summary>What the first sentence says where nothing can be read.</summary>
    private static readonly (string Sentence, string Found)[] Refused =
    [
        ("means and sds only", "medias"), ("a mean", "medias"), ("no dates, only days", "medias"), ("picture", "a picture"),
    ];

    // what the sheet's own names say, and what becomes of a burial, is told by the rows as they are read, which are compared
    private static readonly string[] SeenInRows = ["Länge before Breite", "signs from the headings", "k undefined"];

    // Means without days and places, k without its days, a picture, places that stand nowhere, no last mass.
    private static readonly string[] Unfinished =
    [
        "15-fuentalba-medias", "16-thornmere-k-only", "17-tannfurt-foto", "25-trois-aulnes-cote-a-cote", "32-obermuerlen-ohne-endgewicht",
    ];

    private static IEnumerable<string> Differences(JsonElement truth, JsonElement lots, ContributionTables rows, bool isWhole)
    {
        Dictionary<string, SiteRow> sites = rows.Sites.ToDictionary(site => site.SiteId);
        List<string> ours = [.. rows.Bags.Select(bag => Shown(bag.Role == LitterRole.Fast ? "fast" : "slow", bag.LotId,
            bag.MassInitialGrams, bag.MassFinalGrams,
            $"{bag.BuriedOn:yyyy-MM-dd}", bag.RetrievedOn is { } day ? $"{day:yyyy-MM-dd}" : null,
                sites.GetValueOrDefault(bag.SiteId)?.DecimalLatitude,
            sites.GetValueOrDefault(bag.SiteId)?.DecimalLongitude, bag.MassBasis == MassBasis.Gross, bag.Treatment))];
        List<string> theirs = [.. truth.GetProperty("bags").EnumerateArray()
            .Select(bag => Shown(bag.GetProperty("role").GetString()!, bag.GetProperty("lot").GetString()!,
            Number(bag, "mass_initial_g"), Number(bag, "mass_final_g"), bag.GetProperty("buried_on").GetString(),
                bag.GetProperty("retrieved_on").GetString(),
            Number(bag, "latitude"), Number(bag, "longitude"), bag.GetProperty("gross").GetBoolean(), bag.GetProperty("treatment")
                .GetString()))];
        // what the sheet does not say the truth may know from elsewhere, and the other way round
        foreach (string more in Without(ours, theirs).Take(3))
            yield return "not true: " + more;
        if (!isWhole)
            yield break;
        foreach (string missing in Without(theirs, ours).Take(3))
            yield return "missing: " + missing;
        if (rows.Bags.Count > 0)
        {
            (double? K, double? S)[] computed =
            [
                .. CheckedBurial.Of(BurialRows.Of(rows.Bags, rows.Lots)).Select(burial => (burial.RatePerDay, burial.Stabilisation)),
            ];
            List<(double? K, double? S)> stated = [.. truth.GetProperty("k_s").EnumerateArray()
                .Select(burial => Stated(truth, lots, burial))];
            foreach ((double? K, double? S) own in computed)
            {
                int at = stated.FindIndex(one => Near(one.K, own.K, 2e-6) && Near(one.S, own.S, 2e-6));
                if (at >= 0)
                    stated.RemoveAt(at);
                else
                    yield return string.Create(CultureInfo.InvariantCulture, $"k and S: {own.K:0.000000} {own.S:0.000000}");
            }
            foreach ((double? K, double? S) left in stated)
                yield return string.Create(CultureInfo.InvariantCulture, $"k and S of the truth: {left.K:0.000000} {left.S:0.000000}");
        }
    }

    // The script of the truth takes the share of a lot as it stands. That of ash-free litter is H (1 - A) of dry litter; an ash that nobody
    // measured lies anywhere from 0 to 0.15 (docs/method.md), 0.075 in the mean.
    private static (double? K, double? S) Stated(JsonElement truth, JsonElement lots, JsonElement burial)
    {
        (double? k, double? s) = (Number(burial, "k"), Number(burial, "S"));
        string id = burial.GetProperty("burial").GetString()!;
        JsonElement[] bags = [.. truth.GetProperty("bags").EnumerateArray().Where(bag => bag.GetProperty("burial").GetString() == id)];
        (double Share, double Tare, bool IsAshFree) Lot(JsonElement bag) => lots.EnumerateArray()
            .Where(lot => lot.GetProperty("id").GetString() == bag.GetProperty("lot").GetString())
            .Select(lot => (lot.GetProperty("hydrolysable_fraction").GetDouble(), lot.GetProperty("tare_g").GetDouble(),
                lot.GetProperty("basis").GetString() == "ash-free")).Single();
        if (!bags.Any(bag => Lot(bag).IsAshFree))
            return (k, s);
        (double? Left, double Share) fast = Of("fast"), slow = Of("slow");
        if (fast.Left is not { } left)
            return (k, s);
        double stabilised = 1 - (1 - left) / fast.Share, decaying = slow.Share * (1 - stabilised);
        double days = (Day("retrieved_on") - Day("buried_on")).TotalDays;
        return (slow.Left is { } rest && rest > 1 - decaying && k is not null ? Math.Log(decaying / (rest - (1 - decaying))) / days : null,
            stabilised);

        (double?, double) Of(string role)
        {
            JsonElement bag = bags.Single(bag => bag.GetProperty("role").GetString() == role);
            (double share, double tare, bool isAshFree) = Lot(bag);
            double bagGrams = bag.GetProperty("gross").GetBoolean() ? tare : 0;
            return ((Number(bag, "mass_final_g") - bagGrams) / (Number(bag, "mass_initial_g") - bagGrams),
                isAshFree ? share * (1 - 0.075) : share);
        }

        DateTime Day(string field) => DateTime.Parse(bags[0].GetProperty(field).GetString()!, CultureInfo.InvariantCulture);
    }

    private static JsonElement LotsOf(string campaign)
    {
        using JsonDocument document = JsonDocument.Parse(File.ReadAllBytes(campaign));
        return document.RootElement.GetProperty("lots").Clone();
    }

    // the truth has six decimals
    private static bool Near(double? one, double? other, double most) => one is null ? other is null
        : Math.Abs(one.Value - other ?? double.NaN) <= most;

    private static IEnumerable<string> Without(List<string> all, List<string> known)
    {
        List<string> left = [.. known];
        return [.. all.Where(one => !left.Remove(one))];
    }

    private static string Shown(string role, string lot, double? first, double? last, string? buried, string? retrieved, double? latitude,
        double? longitude,
        bool isGross, string? treatment) => string.Create(CultureInfo.InvariantCulture,
        $"{role} {lot} {first:0.####} {last:0.####} {buried} {retrieved} {latitude:0.####} {longitude:0.####} {(isGross ? "gross" : "litter")} {treatment}");

    private static double? Number(JsonElement element, string field) =>
        element.TryGetProperty(field, out JsonElement number) && number.ValueKind == JsonValueKind.Number ? number.GetDouble() : null;

    private static Campaign CampaignOf(string path, string language)
    {
        using JsonDocument document = JsonDocument.Parse(File.ReadAllBytes(path));
        JsonElement root = document.RootElement, protocol = root.GetProperty("protocol");
        return new Campaign(root.GetProperty("id").GetString()!, protocol.GetProperty("id").GetString()!.ToLowerInvariant())
        {
            Licence = root.GetProperty("licence").GetString(),
            Language = language,
            Bury = Range("burial_window"),
            DigUp = Range("digging_window"),
            Lots = [.. root.GetProperty("lots").EnumerateArray().Select(lot => new Dictionary<string, string>
            {
                ["lot_id"] = lot.GetProperty("id").GetString()!,
                ["role"] = lot.GetProperty("role").GetString()!,
                ["hydrolysable_fraction"] = lot.GetProperty("hydrolysable_fraction").GetRawText(),
                ["hydrolysable_fraction_sd"] = lot.GetProperty("hydrolysable_sd").GetRawText(),
                ["hydrolysable_basis"] = lot.GetProperty("basis").GetString()!,
                ["tare_g"] = lot.GetProperty("tare_g").GetRawText(),
                ["tare_sd_g"] = lot.GetProperty("tare_sd_g").GetRawText(),
                ["litter_mass_nominal_g"] = lot.GetProperty("nominal_litter_mass_g").GetRawText(),
            })],
            Bags = new Dictionary<string, string>
            {
                ["mass_basis"] = protocol.GetProperty("masses_include_bag").GetBoolean() ? "gross" : "litter",
                ["drying_initial"] = "oven",
                ["drying"] = "oven",
                ["depth_cm"] = protocol.GetProperty("depth_cm").GetRawText(),
            },
            Treatments = [.. root.GetProperty("treatments").EnumerateArray()
                .Select(treatment => LocalText.Of(treatment.GetString()!, "en"))],
            Groups = [.. root.GetProperty("groups").EnumerateObject().Select(group =>
                new CampaignGroup(Identifier.Of(group.Name).ToLowerInvariant())
            {
                Title = group.Name,
                CountryCode = group.Value.GetProperty("country").GetString(),
                Lots = [.. group.Value.GetProperty("lots").EnumerateArray().Select(lot => lot.GetString()!)],
            })],
        };

        DayRange Range(string name) => root.GetProperty(name).EnumerateArray()
            .Select(day => DateOnly.Parse(day.GetString()!, CultureInfo.InvariantCulture))
            .ToArray() is [DateOnly from, DateOnly to] ? new DayRange(from, to) : throw new InvalidDataException(name);
    }
}
