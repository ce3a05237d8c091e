using System.Diagnostics;
using System.Globalization;
using System.IO.Compression;
using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.Playwright;

namespace DecayAtlas.EndToEnd;

/// <summary>The check as a group meets it: a file is dropped on a page in Chromium. What the page holds and shows is held against the
/// command; the page comes from disk, as one file, from our server and from a host that knows nothing of it.</summary>
public sealed class CheckInABrowser(ServedDemo served, Browser browser, PlainHost plain, KeptWindows kept) :
    IClassFixture<ServedDemo>, IClassFixture<Browser>, IClassFixture<PlainHost>, IClassFixture<KeptWindows>, IDisposable
{
    /// <summary>Ways by which a page comes to a group.</summary>
    public static TheoryData<string> Ways => new("disk", "one file", "served", "any host");

    public static TheoryData<string> Contributions => new(
        "example", "example-results", "results", "means", "workbook", "broken", "descriptor", "mapping", "not-yaml");

    /// <summary>Every third.</summary>
    public static TheoryData<string> MessySheets => [.. Directory.GetDirectories(Sheets).Select(folder => Path.GetFileName(folder))
        .Order(StringComparer.Ordinal).Where((_, i) => i % 3 == 0)];

    private const long MostBytesOnTheWire = 4_000_000;

    private readonly string _folder = Directory.CreateTempSubdirectory("decayatlas-check-").FullName;

    private static string Sheets => Project.PathOf("tests/DecayAtlas.Contributions.Tests/sheets");

    private static string? SkipBecause => Browser.SkipBecause ?? (Pages.Checking.CheckInOneFile.IsThere ? null
        : "the check for browsers is not in this build; dotnet publish src/DecayAtlas.Browser, and build again");

    private string PagesFolder => Path.GetFullPath(served.Workspace.PathOf("atlas/current/pages"));

    private string ServedPages =>
        $"{served.Address}/releases/{new AtlasFolder(served.Workspace.PathOf("atlas")).CurrentRelease()}/pages";

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    /// <summary>What the command says of a file of the folder, as if it were started there.</summary>
    private string Told(string name)
    {
        using StringWriter output = new(), error = new();
        Cli.CommandLine.Run(["check", At(name), "--json"], output, error);
        return output.ToString().Replace(JsonEncodedText.Encode(At(name)).Value, name, StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(Contributions))]
    public async Task What_the_page_holds_is_what_the_command_prints_letter_by_letter(string contribution)
    {
        string[] files = FilesOf(contribution);
        WatchedPage window = await kept.OpenAsync("checks", () => OpenAsync("one file"));
        await DropAsync(window.Page, files);
        string own = await window.Page.EvaluateAsync<string>("() => atlasCheck.json()");
        Assert.Equal(Told(Path.GetFileName(files[0])), own + "\n");
        Assert.Empty(window.Complaints);
    }

    [Theory]
    [MemberData(nameof(Ways))]
    public async Task Wherever_the_page_comes_from_it_shows_the_k_and_S_of_the_command_and_asks_nobody_for_anything(string way)
    {
        string[] files = FilesOf("example");
        await using WatchedPage window = await OpenAsync(way);
        int before = window.Asked.Count;
        await DropAsync(window.Page, files);
        JsonNode told = JsonNode.Parse(Told(Path.GetFileName(files[0])))!;
        IReadOnlyList<string> shown = await window.Page.Locator("#answer table.numbers tbody tr:has(> td:nth-child(4))").AllInnerTextsAsync();
        foreach (JsonNode? burial in told["burials"]!.AsArray().Where(b => b!["rate_per_day"] is not null))
        {
            string row = Assert.Single(shown, text => text.StartsWith((string)burial!["burial_id"]!, StringComparison.Ordinal));
            Assert.Contains($"{Number(burial!["rate_per_day"], "0.0000")} ({Number(burial["rate_lower95_per_day"], "0.0000")} – "
                + $"{Number(burial["rate_upper95_per_day"], "0.0000")})", row, StringComparison.Ordinal);
            Assert.Contains($"{Number(burial["stabilisation"], "0.00")} (", row, StringComparison.Ordinal);
        }

        Assert.Equal(before, window.Asked.Count);
        Assert.Empty(window.Complaints);
    }

    [Fact]
    public async Task What_is_saved_to_send_is_a_contribution_that_the_command_takes_and_gives_the_same_numbers()
    {
        string[] files = FilesOf("results");
        await using WatchedPage window = await OpenAsync("disk");
        await DropAsync(window.Page, files);
        IDownload saved = await window.Page.RunAndWaitForDownloadAsync(
            () => window.Page.Locator("#answer button").First.ClickAsync());
        await saved.SaveAsAsync(At("sent.zip"));
        JsonNode sent = JsonNode.Parse(Told("sent.zip"))!,
            own = JsonNode.Parse(Told(Path.GetFileName(files[0])))!;
        Assert.True((bool)sent["valid"]!);
        Assert.Equal("data-package", (string)sent["format"]!);
        Assert.Equal(own["burials"]!.ToJsonString(), sent["burials"]!.ToJsonString());
        Assert.Equal((string)JsonNode.Parse(await TextInAsync(At("sent.zip")))!["name"]! + ".zip", saved.SuggestedFilename);
        Assert.Empty(window.Complaints);
    }

    [Fact]
    public async Task What_mends_something_that_was_sent_before_is_saved_under_the_next_number_and_the_answers_too()
    {
        string[] files = FilesOf("results");
        await using WatchedPage window = await OpenAsync("disk");
        await DropAsync(window.Page, files);
        Assert.False(await window.Page.Locator("#revision").IsVisibleAsync());
        await window.Page.CheckAsync("#mends");
        Assert.Equal("2", await window.Page.InputValueAsync("#revision"));
        await window.Page.FillAsync("#revision", "3");
        await window.Page.Keyboard.PressAsync("Tab");

        IDownload sent = await window.Page.RunAndWaitForDownloadAsync(() => window.Page.Locator("#answer .doors button").First.ClickAsync());
        await sent.SaveAsAsync(At("sent.zip"));
        IDownload answers = await window.Page.RunAndWaitForDownloadAsync(
            () => window.Page.Locator("#answer .doors button").Nth(1).ClickAsync());
        await answers.SaveAsAsync(At("answers.yaml"));

        Assert.Equal(3, (int)JsonNode.Parse(await TextInAsync(At("sent.zip")))!["revision"]!);
        Assert.True((bool)JsonNode.Parse(Told("sent.zip"))!["valid"]!);
        Assert.Equal(Path.GetFileName(files[1]), answers.SuggestedFilename);
        Assert.Contains("revision: \"3\"", await File.ReadAllTextAsync(At("answers.yaml"), TestContext.Current.CancellationToken),
            StringComparison.Ordinal);
        Assert.Empty(window.Complaints);
    }

    /// <summary>What browsers make of files that a hand lets go over the page.</summary>
    [Fact]
    public async Task Files_that_are_dropped_by_mouse_are_taken_as_those_that_are_chosen()
    {
        string[] files = FilesOf("results");
        await using WatchedPage window = await OpenAsync("one file");
        await window.Page.EvaluateAsync("""
            files => {
              const data = new DataTransfer();
              for (const f of files) {
                data.items.add(new File([Uint8Array.from(atob(f.bytes), c => c.charCodeAt(0))], f.name));
              }
              const zone = document.getElementById('drop');
              for (const kind of ['dragenter', 'dragover', 'drop']) {
                const event = new DragEvent(kind, { dataTransfer: data, bubbles: true, cancelable: true });
                if (zone.dispatchEvent(event)) throw new Error(kind + ' is left to the browser, which would open the file');
                if (kind === 'dragover' && !zone.classList.contains('over-it')) throw new Error('nothing shows where to let go');
              }
            }
            """, files.Select(file => new { name = Path.GetFileName(file), bytes = Convert.ToBase64String(File.ReadAllBytes(file)) }));
        await CheckedAsync(window.Page);

        Assert.Equal(Told(Path.GetFileName(files[0])),
            await window.Page.EvaluateAsync<string>("() => atlasCheck.json()") + "\n");
        Assert.False(await window.Page.Locator("#drop.over-it").IsVisibleAsync());
        Assert.Empty(window.Complaints);
    }

    /// <summary>Which places of the release are alike is worked out here anew from what the release says of its sites.</summary>
    [Fact]
    public async Task Results_stand_beside_places_in_a_similar_climate_where_the_release_has_one_near()
    {
        ReleaseReader release = new(new AtlasFolder(served.Workspace.PathOf("atlas")));
        ReleasedCovariate[] climate = [.. release.Rows(AtlasTables.Covariates).Where(c => c.Value is not null)];
        string[] names = [.. climate.Select(c => c.Covariate).Distinct()];
        string warmth = names.Single(n => n.Contains("temperature", StringComparison.Ordinal) && n.Contains("air", StringComparison.Ordinal)),
            rain = names.Single(n => n.Contains("precipitation", StringComparison.Ordinal));
        Dictionary<string, double> celsius = Of(warmth), mm = Of(rain);
        HashSet<string> rated = [.. release.Rows(AtlasTables.Burials).Where(b => b.CountsForPlace).Select(b => b.SiteKey)
            .Concat(release.Rows(AtlasTables.Results).Where(r => r.CountsForPlace).Select(r => r.SiteKey)).Where(celsius.ContainsKey)];
        ReleasedSite own = release.Rows(AtlasTables.Sites).First(s => rated.Contains(s.SiteKey) && mm.ContainsKey(s.SiteKey)
            && s is { IsGeneralised: false, LatitudeDegrees: not null });
        // places without a position are in no table that a page can look at
        HashSet<string> placed = [.. release.Rows(AtlasTables.Sites).Where(s => s.LatitudeDegrees is not null).Select(s => s.SiteKey)];
        int alike = rated.Count(s => placed.Contains(s) && mm.ContainsKey(s) && Math.Abs(celsius[s] - celsius[own.SiteKey]) <= 2
            && mm[s] / mm[own.SiteKey] is >= 0.5 and <= 2);

        Workspace.CopyTree(Project.PathOf("schemas/v1/example"), At("near"));
        string[] sites = File.ReadAllLines(At("near/sites.csv"));
        string[] head = sites[0].Split(',');
        File.WriteAllLines(At("near/sites.csv"), sites.Take(1).Concat(sites.Skip(1).Select(row => string.Join(',', row.Split(',')
            .Select((cell, i) => head.ElementAtOrDefault(i) switch
            {
                "decimal_latitude" => own.LatitudeDegrees!.Value.ToString("R", CultureInfo.InvariantCulture),
                "decimal_longitude" => own.LongitudeDegrees!.Value.ToString("R", CultureInfo.InvariantCulture),
                _ => cell,
            })))));
        ZipFile.CreateFromDirectory(At("near"), At("near.zip"));
        await using WatchedPage window = await OpenAsync("disk");
        await DropAsync(window.Page, [At("near.zip")]);

        string said = await window.Page.Locator("#answer p.nothing:has-text('Shaded')").First.InnerTextAsync();
        Assert.Contains("as warm and as wet as yours", said, StringComparison.Ordinal);
        Assert.Contains(string.Create(CultureInfo.InvariantCulture, $", {alike} sites"), said, StringComparison.Ordinal);
        Assert.Empty(window.Complaints);

        Dictionary<string, double> Of(string name) =>
            climate.Where(c => c.Covariate == name).ToDictionary(c => c.SiteKey, c => c.Value!.Value);
    }

    /// <summary>Tables as people make them: whatever is answered, the page and the command read the same by the answers that were
    /// saved.</summary>
    [Theory]
    [MemberData(nameof(MessySheets))]
    public async Task A_table_that_needs_questions_is_read_by_its_answers_as_the_command_reads_it(string sheet)
    {
        string source = Directory.GetFiles(Path.Combine(Sheets, sheet), "sheet.*").Single(), name = Path.GetFileName(source);
        File.Copy(source, At(name));
        WatchedPage window = await kept.OpenAsync("campaign", OpenWithCampaignAsync);
        await window.Page.SetInputFilesAsync("#files", At(name));
        int asked = await AnswerAllAsync(window.Page);
        string? mapping = await window.Page.EvaluateAsync<string?>("() => atlasCheck.mapping()");
        TestContext.Current.TestOutputHelper?.WriteLine($"{sheet}: {asked} questions, {(mapping is null ? "no mapping" : "a mapping")}");
        Assert.Empty(window.Complaints);
        if (mapping is null)
        {
            Assert.NotEmpty(await window.Page.InnerTextAsync("#asked li"));
            return;
        }

        File.WriteAllText(At("sheet.mapping.yaml"), mapping);
        string told = Told(name);
        Assert.Equal(told, await window.Page.EvaluateAsync<string>("() => atlasCheck.json()") + "\n");

        // next time
        await DropAsync(window.Page, [At(name), At("sheet.mapping.yaml")]);
        Assert.Equal(told, await window.Page.EvaluateAsync<string>("() => atlasCheck.json()") + "\n");
    }

    [Fact]
    public async Task An_answer_that_cannot_be_understood_is_said_to_be_none_and_asked_again()
    {
        File.Copy(Path.Combine(Sheets, "16-thornmere-k-only/sheet.xlsx"), At("sheet.xlsx"));
        await using WatchedPage window = await OpenWithCampaignAsync();
        await window.Page.SetInputFilesAsync("#files", At("sheet.xlsx"));
        await AskedAsync(window.Page);
        while (!(await window.Page.InnerTextAsync("#asked h3")).Contains("Latitude", StringComparison.Ordinal))
            await AnswerAsync(window.Page);
        await window.Page.FillAsync("#asked form input", "behind the school");
        await window.Page.Keyboard.PressAsync("Enter");
        await AskedAsync(window.Page);
        Assert.NotEmpty(await window.Page.InnerTextAsync("#asked [role=alert]"));
        Assert.Equal("behind the school", await window.Page.InputValueAsync("#asked form input"));
    }

    [Fact]
    public async Task An_answer_can_be_taken_back_and_changed()
    {
        File.Copy(Path.Combine(Sheets, "01-klasse-semikolon/sheet.csv"), At("sheet.csv"));
        await using WatchedPage window = await OpenWithCampaignAsync();
        await window.Page.SetInputFilesAsync("#files", At("sheet.csv"));
        await AskedAsync(window.Page);
        string first = await window.Page.InnerTextAsync("#asked h3");
        await AnswerAsync(window.Page);
        Assert.NotEqual(first, await window.Page.InnerTextAsync("#asked h3"));
        await window.Page.Locator("#asked form button.quiet").ClickAsync();
        await AskedAsync(window.Page);
        Assert.Equal(first, await window.Page.InnerTextAsync("#asked h3"));
        await AnswerAllAsync(window.Page);
        await window.Page.Locator("summary:has-text('Your answers')").ClickAsync();
        await window.Page.Locator(".answers-given button").First.ClickAsync();
        await AskedAsync(window.Page);
        Assert.Equal(first, await window.Page.InnerTextAsync("#asked h3"));
        Assert.Empty(window.Complaints);
    }

    [Fact]
    public async Task A_workbook_full_of_script_shows_as_text()
    {
        const string hostile = "<img src=x onerror=\"window.hit=1\"><script>window.hit=1</script>";
        MinimalWorkbook.Write(At("hostile.xlsx"), ("package", [["name", "value"], [hostile, hostile]]),
            ("sites", [["site_id", hostile], [hostile, hostile]]), ("lots", [["lot_id", "role"], [hostile, hostile]]),
            ("bags", [["bag_id", hostile, "treatment"], [hostile, hostile, hostile]]));
        await using WatchedPage window = await OpenAsync("disk");
        await DropAsync(window.Page, [At("hostile.xlsx")]);
        Assert.Contains("onerror", await window.Page.InnerTextAsync("#answer"), StringComparison.Ordinal);
        Assert.Equal(0, await window.Page.Locator("#answer img, #answer script").CountAsync());
        Assert.False(await window.Page.EvaluateAsync<bool>("() => 'hit' in window"));
        Assert.Empty(window.Complaints);
    }

    [Fact]
    public async Task A_folder_is_taken_with_all_its_files_and_a_finding_leads_to_its_cell_and_back()
    {
        FilesOf("broken");
        await using WatchedPage window = await OpenAsync("disk");
        await window.Page.SetInputFilesAsync("#folder", At("broken"));
        await CheckedAsync(window.Page);
        ILocator finding = window.Page.Locator(".findings > li").First;
        Assert.Contains("bags.csv", await finding.InnerTextAsync(), StringComparison.Ordinal);
        await finding.Locator("a").ClickAsync();
        ILocator cell = window.Page.Locator("td.marked:target");
        Assert.Equal("heavy", await cell.InnerTextAsync());
        await cell.Locator("a").ClickAsync();
        Assert.Equal(1, await window.Page.Locator(".findings > li:target").CountAsync());
        Assert.Empty(window.Complaints);
    }

    [Theory]
    [InlineData(ColorScheme.Light, 1280)]
    [InlineData(ColorScheme.Dark, 1280)]
    [InlineData(ColorScheme.Light, 360)]
    public async Task Accessibility_has_no_serious_fault_and_nothing_is_wider_than_the_window(ColorScheme scheme, int width)
    {
        List<string> faults = [];
        foreach (string contribution in new[] { "example", "broken" })
        {
            await using WatchedPage window = await OpenAsync("disk", width, scheme, bypassPolicy: true);
            faults.AddRange(await Accessibility.SeriousFaultsAsync(window.Page, "empty", scheme));
            await DropAsync(window.Page, FilesOf(contribution));
            faults.AddRange(await Accessibility.SeriousFaultsAsync(window.Page, contribution, scheme));
            Assert.True(await window.Page.EvaluateAsync<int>("() => document.scrollingElement.scrollWidth") <= width, contribution);
        }

        Assert.Empty(faults);
    }

    [Fact]
    public async Task By_keyboard_alone_a_file_can_be_chosen_and_the_answer_takes_the_focus()
    {
        await using WatchedPage window = await OpenAsync("one file");
        string? focused = null;
        for (int i = 0; i < 12 && focused != "files"; i++)
        {
            await window.Page.Keyboard.PressAsync("Tab");
            focused = await window.Page.EvaluateAsync<string?>("() => document.activeElement.id");
        }

        Assert.Equal("files", focused);
        IFileChooser chooser = await window.Page.RunAndWaitForFileChooserAsync(() => window.Page.Keyboard.PressAsync("Space"));
        await chooser.SetFilesAsync(FilesOf("example"));
        await CheckedAsync(window.Page);
        Assert.Equal("H2", await window.Page.EvaluateAsync<string>("() => document.activeElement.tagName"));
        Assert.Equal("status", await window.Page.GetAttributeAsync("#state", "role"));
    }

    [Fact]
    public async Task Every_language_says_its_own_words()
    {
        await using WatchedPage window = await OpenAsync("one file");
        Dictionary<string, string> titles = [];
        foreach (string code in new[] { "en", "de", "es", "fr" })
        {
            await window.Page.Locator($".languages a[lang={code}]").ClickAsync();
            await window.Page.WaitForSelectorAsync($"html[lang={code}][data-check=ready]", new() { State = WaitForSelectorState.Attached });
            titles[code] = await window.Page.InnerTextAsync("h1");
        }

        Assert.Equal(4, titles.Values.Distinct().Count());
        Assert.Empty(window.Complaints);
    }

    [Fact]
    public async Task Four_megabytes_on_the_wire_and_a_policy_for_this_page_alone()
    {
        Assert.SkipWhen(SkipBecause is not null, SkipBecause ?? "");
        using HttpClient client = new();
        client.DefaultRequestHeaders.Add("Accept-Encoding", "br, gzip");
        string page = await File.ReadAllTextAsync(Path.Combine(PagesFolder, "check.html"), TestContext.Current.CancellationToken);
        long bytes = 0;
        foreach (string file in Parts(page).Prepend("check.html"))
            bytes += (await client.GetByteArrayAsync($"{ServedPages}/{file}", TestContext.Current.CancellationToken)).Length;
        TestContext.Current.TestOutputHelper?.WriteLine($"{bytes} bytes on the wire");
        Assert.InRange(bytes, 1, MostBytesOnTheWire);

        Assert.Contains("'wasm-unsafe-eval'", await PolicyOfAsync(client, "check.html"), StringComparison.Ordinal);
        Assert.Contains("'wasm-unsafe-eval'", await PolicyOfAsync(client, "de/check.html"), StringComparison.Ordinal);
        Assert.DoesNotContain("unsafe", await PolicyOfAsync(client, "index.html"), StringComparison.Ordinal);
        Assert.DoesNotContain("connect-src", await PolicyOfAsync(client, "check.html"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task It_is_ready_and_reads_a_thousand_bags_without_a_wait()
    {
        string[] files = [ThousandBags()];
        Stopwatch watch = Stopwatch.StartNew();
        await using WatchedPage window = await OpenAsync("one file");
        double ready = watch.Elapsed.TotalSeconds;
        // as while a person looks for the file
        await window.Page.WaitForSelectorAsync("html[data-warm=yes]", new() { State = WaitForSelectorState.Attached });
        watch.Restart();
        await DropAsync(window.Page, files);
        TestContext.Current.TestOutputHelper?.WriteLine(
            string.Create(CultureInfo.InvariantCulture, $"ready after {ready:0.0} s, 1,000 bags after {watch.Elapsed.TotalSeconds:0.0} s"));
        // what it takes alone on two cores is a third of this; here other tests run beside it
        Assert.InRange(ready, 0, 30);
        Assert.InRange(watch.Elapsed.TotalSeconds, 0, 30);
        Assert.Contains("500", await window.Page.InnerTextAsync("#answer h2"), StringComparison.Ordinal);
    }

    private async Task<WatchedPage> OpenAsync(string way, int width = 1280, ColorScheme scheme = ColorScheme.Light,
        bool bypassPolicy = false)
    {
        Assert.SkipWhen(SkipBecause is not null, SkipBecause ?? "");
        plain.Folder = PagesFolder;
        (string home, string folder, string path) = way switch
        {
            "disk" => ("file:", PagesFolder, "check.html"),
            "one file" => ("file:", PagesFolder, Pages.Checking.CheckInOneFile.FileName),
            "served" => (served.Address + "/", ServedPages, "check.html"),
            _ => (plain.Address, plain.Address.TrimEnd('/'), "check.html"),
        };
        WatchedPage window = await browser.OpenAsync(width, 900, scheme, bypassPolicy, home);
        await window.GoToAsync(folder, path);
        await window.Page.WaitForSelectorAsync("html[data-check=ready]", new() { State = WaitForSelectorState.Attached });
        return window;
    }

    private async Task<WatchedPage> OpenWithCampaignAsync()
    {
        WatchedPage window = await OpenAsync("one file");
        await window.Page.SetInputFilesAsync("#campaign", Project.PathOf("docs/examples/campaign.yaml"));
        await window.Page.WaitForSelectorAsync("html[data-check=ready]", new() { State = WaitForSelectorState.Attached });
        return window;
    }

    private static async Task DropAsync(IPage page, string[] files)
    {
        await page.SetInputFilesAsync("#files", files);
        await CheckedAsync(page);
    }

    /// <summary>Answers what is asked as a hasty person does: what is likely, else the first, else anything.</summary>
    /// <returns>How often.</returns>
    private static async Task<int> AnswerAllAsync(IPage page)
    {
        for (int asked = 0; ; asked++)
        {
            await AskedAsync(page);
            if (await page.EvaluateAsync<string>("() => document.documentElement.dataset.check") != "asking")
                return asked;
            Assert.InRange(asked, 0, 60);
            await AnswerAsync(page);
        }
    }

    private static async Task AnswerAsync(IPage page)
    {
        await page.EvaluateAsync("""
            () => {
              const form = document.querySelector('#asked form'), radios = [...form.querySelectorAll('input[type=radio]')];
              const text = form.querySelector('input:not([type=radio])');
              if (radios.length) (radios.find(r => r.parentNode.querySelector('.likely')) || radios[0]).checked = true;
              else if (text.value === '') text.value = text.type === 'date' ? '2025-05-12' : text.inputMode === 'decimal' ? '1'
                : form.textContent.includes('Latitude') ? '48.73 N, 9.29 E' : 'own-name';
              form.requestSubmit();
            }
            """);
        await AskedAsync(page);
    }

    private static async Task AskedAsync(IPage page)
    {
        await page.WaitForSelectorAsync("html[data-check=asking], html[data-check=done], html[data-check=broken]",
            new() { State = WaitForSelectorState.Attached });
        Assert.NotEqual("broken", await page.EvaluateAsync<string>("() => document.documentElement.dataset.check"));
    }

    private static async Task CheckedAsync(IPage page)
    {
        await page.WaitForSelectorAsync("html[data-check=done], html[data-check=broken]", new() { State = WaitForSelectorState.Attached });
        Assert.Equal("done", await page.EvaluateAsync<string>("() => document.documentElement.dataset.check"));
    }

    /// <summary>The files of an example, in a folder of ours; the first is what the command is given.</summary>
    private string[] FilesOf(string contribution)
    {
        switch (contribution)
        {
            case "example" or "example-results":
                ZipFile.CreateFromDirectory(Project.PathOf("schemas/v1/" + contribution), At(contribution + ".zip"));
                return [At(contribution + ".zip")];
            case "results" or "means":
                foreach (string ending in new[] { ".csv", ".mapping.yaml" })
                    File.Copy(Project.PathOf($"docs/examples/{contribution}{ending}"), At(contribution + ending));
                return [At(contribution + ".csv"), At(contribution + ".mapping.yaml")];
            case "mapping" or "not-yaml":
                string[] files = FilesOf("results");
                string mapping = File.ReadAllText(files[1]);
                File.WriteAllText(files[1], contribution == "mapping"
                    ? mapping.Replace("one_row_is: bag", "one_row_is: sack", StringComparison.Ordinal) : mapping + "version: 1\nlots: [\n");
                return files;
            case "descriptor":
                Workspace.CopyTree(Project.PathOf("schemas/v1/example"), At("descriptor"));
                JsonNode spoilt = JsonNode.Parse(File.ReadAllText(At("descriptor/datapackage.json")))!;
                spoilt["name"] = "Not An Id";
                spoilt["licenses"] = new JsonArray();
                spoilt["resources"]![0]!["path"] = 3;
                File.WriteAllText(At("descriptor/datapackage.json"), spoilt.ToJsonString());
                ZipFile.CreateFromDirectory(At("descriptor"), At("descriptor.zip"));
                return [At("descriptor.zip")];
            case "workbook":
                string example = Project.PathOf("schemas/v1/example");
                MinimalWorkbook.Write(At("workbook.xlsx"),
                [
                    ("package",
                    [
                        ["name", "value"], ["name", "in-a-workbook"], ["licence", "CC-BY-4.0"], ["contributor", "example-group"],
                        ["campaign", "example-2024"], ["protocol", "two-litters-90-days"],
                    ]),
                    .. new[] { "sites", "lots", "bags" }.Select(table =>
                        (table, File.ReadAllLines(Path.Combine(example, table + ".csv")).Select(line => line.Split(',')).ToArray())),
                ]);
                return [At("workbook.xlsx")];
            default:
                Workspace.CopyTree(Project.PathOf("schemas/v1/example"), At("broken"));
                string bags = File.ReadAllText(At("broken/bags.csv"));
                File.WriteAllText(At("broken/bags.csv"), bags.Replace(",4.12,", ",heavy,", StringComparison.Ordinal));
                ZipFile.CreateFromDirectory(At("broken"), At("broken.zip"));
                return [At("broken.zip")];
        }
    }

    /// <summary>The example's first burial five hundred times.</summary>
    private string ThousandBags()
    {
        Workspace.CopyTree(Project.PathOf("schemas/v1/example"), At("thousand"));
        File.Delete(At("thousand/samples.csv"));
        string[] bags = File.ReadAllLines(At("thousand/bags.csv"));
        File.WriteAllLines(At("thousand/bags.csv"), bags.Take(1).Concat(Enumerable.Range(0, 500).SelectMany(i => bags.Skip(1).Take(2)
            // no two burials weigh the same, which would be asked about
            .Select(row => row.Replace("meadow-1-1", $"meadow-1-n{i}", StringComparison.Ordinal)
                .Replace(",4.12,1.94,", $",4.12{i % 25:00},1.94{i / 25:00},", StringComparison.Ordinal)
                .Replace(",4.54,3.36,", $",4.54{i % 25:00},3.36{i / 25:00},", StringComparison.Ordinal)))));
        JsonNode descriptor = JsonNode.Parse(File.ReadAllText(At("thousand/datapackage.json")))!;
        descriptor["resources"]!.AsArray().RemoveAt(3);
        File.WriteAllText(At("thousand/datapackage.json"), descriptor.ToJsonString());
        ZipFile.CreateFromDirectory(At("thousand"), At("thousand.zip"));
        return At("thousand.zip");
    }

    private string At(string name) => Path.Combine(_folder, name);

    private async Task<string> PolicyOfAsync(HttpClient client, string path)
    {
        using HttpResponseMessage answer = await client.GetAsync($"{ServedPages}/{path}", TestContext.Current.CancellationToken);
        return string.Join(' ', answer.Headers.GetValues("Content-Security-Policy"));
    }

    private static IEnumerable<string> Parts(string page) =>
        from part in page.Split("src=\"").Concat(page.Split("<link rel=\"stylesheet\" href=\"")).Select(p => p.Split('"')[0])
        where part.EndsWith(".js", StringComparison.Ordinal) || part.EndsWith(".css", StringComparison.Ordinal)
        select part;

    private static async Task<string> TextInAsync(string zip)
    {
        using ZipArchive archive = ZipFile.OpenRead(zip);
        using StreamReader reader = new(archive.GetEntry("datapackage.json")!.Open());
        return await reader.ReadToEndAsync(TestContext.Current.CancellationToken);
    }

    // the page writes three significant digits nowhere: k to four places, S to two
    private static string Number(JsonNode? value, string format) => ((double)value!).ToString(format, CultureInfo.InvariantCulture);
}
