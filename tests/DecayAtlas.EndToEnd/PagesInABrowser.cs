using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace DecayAtlas.EndToEnd;

/// <summary>The demo's pages as a person sees them: opened from disk in Chromium, their numbers held against DuckDB over the released
/// Parquet.</summary>
public partial class PagesInABrowser(DemoRun demo, Browser browser) : IClassFixture<Browser>
{
    private const string AllSites = "read_parquet('atlas/current/sites/**/*.parquet', hive_partitioning = true)";
    private const string AllBurials = "read_parquet('atlas/current/burials/**/*.parquet', hive_partitioning = true)";
    private const string AllBags = "read_parquet('atlas/current/bags/**/*.parquet', hive_partitioning = true)";
    private const string AllFlags = "read_parquet('atlas/current/flags/*.parquet')";
    private const string OneContribution = "2023-autumn-lantern-hill-farm";

    // of every kind one, in both languages
    internal static readonly string[] Kinds =
    [
        "index.html", "map.html", "answers.html", "quality.html", "model.html", "model-s.html", "data.html",
            "contributions/index.html", $"contributions/{OneContribution}.html", "class/index.html", $"class/{OneContribution}.html",
    ];

    private string Folder => Path.GetFullPath(demo.Workspace.PathOf("atlas/current/pages"));

    private IEnumerable<string> Waiting =>
        Directory.EnumerateFiles(Path.Combine(Folder, "contributions"), "waiting-*.html")
            .Select(f => "contributions/" + Path.GetFileName(f)).Order(StringComparer.Ordinal);

    [Fact]
    public async Task Every_kind_of_page_opens_from_disk_without_an_error_or_an_outside_request()
    {
        await using WatchedPage window = await browser.OpenAsync();
        foreach (string path in Kinds.Append(Waiting.First()).SelectMany(k => new[] { k, "de/" + k }))
            await window.GoToAsync(Folder, path);
        Assert.Empty(window.Complaints);
    }

    [Fact]
    public async Task Every_link_leads_to_a_file_that_is_there()
    {
        Assert.SkipWhen(Browser.SkipBecause is not null, Browser.SkipBecause ?? "");
        await Task.CompletedTask;
        foreach (string page in Directory.EnumerateFiles(Folder, "*.html", SearchOption.AllDirectories))
        {
            foreach (Match link in Link().Matches(File.ReadAllText(page)))
            {
                string target = Uri.UnescapeDataString(link.Groups[1].Value.Split('#')[0]);
                Assert.True(target.Length == 0
                    || File.Exists(Path.Combine(Path.GetDirectoryName(page)!, target)), $"{page} links to {target}");
            }
        }
    }

    // one after the other on one page, as a reader does
    [Fact]
    public async Task Each_filter_of_the_map_counts_what_DuckDB_counts()
    {
        await using WatchedPage window = await browser.OpenAsync();
        await window.GoToAsync(Folder, "map.html");
        int all = await CountAsync(window.Page, "#sites-shown");
        Assert.Equal(Number(demo.Workspace.Query("SELECT count(*) FROM " + AllSites)[0][0]), all);
        foreach ((string filter, string value, string sql) in new[]
        {
            ("ecosystem", "forest", $"SELECT count(*) FROM {AllSites} WHERE ecosystem = 'forest'"),
            ("landUse", "arable", $"SELECT count(*) FROM {AllSites} WHERE land_use = 'arable'"),
            ("campaign", "2024-spring", $"SELECT count(DISTINCT site_key) FROM {AllBurials} WHERE campaign = '2024-spring'"),
            ("use", "a", $"SELECT count(*) FROM {AllSites} WHERE use = 'accepted'"),
            ("flag", "masses-repeated", $"""
                SELECT count(DISTINCT site_key) FROM (
                    SELECT site_key FROM {AllFlags} f JOIN {AllBags} b ON f.contribution_id = b.contribution_id AND record_kind = 'bag'
                        AND record_id = bag_id WHERE code = 'masses-repeated'
                    UNION ALL SELECT site_key FROM {AllFlags} f JOIN {AllBurials} b ON f.contribution_id = b.contribution_id
                        AND record_kind = 'burial' AND record_id = burial_id WHERE code = 'masses-repeated')
                """),
            ("flag", "far-from-country", $"SELECT count(*) FROM {AllFlags} WHERE code = 'far-from-country'"),
        })
        {
            await window.Page.SelectOptionAsync("#" + filter, value);
            int shown = await CountAsync(window.Page, "#sites-shown");
            Assert.True(Number(demo.Workspace.Query(sql)[0][0]) == shown, $"{filter} {value}: {shown}");
            Assert.InRange(shown, 1, all - 1);
            await window.Page.ClickAsync("#filters button[type=reset]");
            await window.Page.WaitForSelectorAsync($"#sites-shown[data-count='{all}']");
        }
    }

    [Fact]
    public async Task Two_filters_narrow_together()
    {
        await using WatchedPage window = await browser.OpenAsync();
        await window.GoToAsync(Folder, "map.html#ecosystem=forest&campaign=2023-autumn");
        Assert.Equal(
            Number(demo.Workspace
                .Query($"SELECT count(DISTINCT site_key) FROM {AllBurials} JOIN {AllSites} s USING (site_key) WHERE campaign = "
                + "'2023-autumn' AND ecosystem = 'forest'")[0][0]),
            await CountAsync(window.Page, "#sites-shown"));
    }

    [Fact]
    public async Task The_panel_of_a_site_shows_the_numbers_of_the_tables()
    {
        object?[] asked = demo.Workspace.Query(
            $"""
            SELECT site_key, exp(avg(ln(k_per_day))), avg(s), count(*), (SELECT count(*) FROM {AllBags} b WHERE b.site_key = x.site_key), (SELECT count(*) FROM {AllBurials} b WHERE b.site_key = x.site_key)
            FROM {AllBurials} x WHERE use = 'accepted' AND k_per_day > 0 AND (treatment IS NULL OR lower(treatment) IN ('control', 'none'))
            GROUP BY site_key HAVING count(*) > 5 AND count(*) = (SELECT count(*) FROM {AllBurials} b WHERE b.site_key = x.site_key AND b.use = 'accepted') ORDER BY site_key LIMIT 1
            """)[0];
        string key = (string)asked[0]!;
        object?[] warmth =
            demo.Workspace
                .Query($"SELECT value FROM read_parquet('atlas/current/covariates/*.parquet') WHERE site_key = '{key}' AND covariate = "
                + "'precipitation'")[0];
        await using WatchedPage window = await browser.OpenAsync();
        await window.GoToAsync(Folder, "map.html#site=" + Uri.EscapeDataString(key));
        await window.Page.WaitForSelectorAsync("#site-name");

        Assert.Equal(Rate(asked[1]), await window.Page.InnerTextAsync("[data-value=rate]"));
        Assert.Equal(((double)asked[2]!).ToString("0.00", CultureInfo.InvariantCulture),
            await window.Page.InnerTextAsync("[data-value=stabilisation]"));
        Assert.Equal($"{asked[3]} / {asked[5]}", await window.Page.InnerTextAsync("[data-value=burials]"));
        string panel = await window.Page.InnerTextAsync("#site");
        Assert.Contains($"Bags ({asked[4]})", panel, StringComparison.Ordinal);
        // three digits, as the panel has them: 2234.9 mm are 2230
        string rain = double.Parse(((double)warmth[0]!).ToString("G3", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture)
            .ToString("0.###", CultureInfo.InvariantCulture);
        Assert.Contains(rain, panel.Replace(",", "", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.Equal(Number(asked[5]), await window.Page.Locator("#site section:has(> h3:text-is('burials')) tbody tr").CountAsync());
        Assert.True(await window.Page.Locator("#site svg polyline").CountAsync() > 0, "no curve was drawn");
        Assert.Empty(window.Complaints);
    }

    [Theory]
    [InlineData("", "exponential down to a rest", "AICc", "en")]
    [InlineData("de/", "exponentiell bis auf einen Rest", "AICc", "de")]
    public async Task A_site_with_several_retrievals_shows_its_fitted_curves_and_names_the_one_of_lowest_AICc(string folder,
        string asymptotic, string criterion, string language)
    {
        const string curves = "read_parquet('atlas/current/curves/*.parquet')";
        object?[] series =
            demo.Workspace
                .Query($"SELECT site_key, campaign, max(bags), max(retrievals) FROM {curves} WHERE litter = 'both' AND treatment IS "
                + "NULL GROUP BY ALL ORDER BY site_key LIMIT 1")[0];
        string key = (string)series[0]!;
        await using WatchedPage window = await browser.OpenAsync();
        await window.GoToAsync(Folder, folder + "map.html#site=" + Uri.EscapeDataString(key));
        await window.Page.WaitForSelectorAsync("#site .series");

        Assert.Equal(language, await window.Page.GetAttributeAsync("html", "lang"));
        foreach (string litter in new[] { "fast", "slow" })
        {
            object?[] best =
                demo.Workspace
                    .Query($"SELECT model, aicc, k_per_day FROM {curves} WHERE site_key = '{key}' AND litter = '{litter}' AND "
                    + "treatment IS NULL AND aicc IS NOT NULL ORDER BY aicc LIMIT 1")[0];
            string said = (await window.Page.Locator(".series ul li").AllInnerTextsAsync())[litter == "fast" ? 0 : 1];
            Assert.Equal("asymptotic", best[0]);   // else the words asked for below are those of another curve
            Assert.Contains(asymptotic, said, StringComparison.Ordinal);
            Assert.Contains(criterion + " " + Local(((double)best[1]!).ToString("0.0", CultureInfo.InvariantCulture)), said,
                StringComparison.Ordinal);
            Assert.Contains(Local(Rate(best[2])), said, StringComparison.Ordinal);
            Assert.Equal(1, await window.Page.Locator($".series polyline.{litter}.best").CountAsync());
        }

        int bags =
            Number(demo.Workspace
                .Query($"SELECT count(*) FROM {AllBags} WHERE site_key = '{key}' AND campaign = '{series[1]}' AND treatment IS NULL "
                + "AND remaining_fraction IS NOT NULL")[0][0]);
        Assert.Equal(bags, await window.Page.Locator(".series .mark").CountAsync());
        Assert.Equal(1, await window.Page.Locator(".series polyline.shortcut").CountAsync());
        Assert.Empty(window.Complaints);

        string Local(string number) => (language == "de" ? number.Replace('.', ',') : number).Replace('-', '−');
    }

    [Fact]
    public async Task The_answers_say_how_far_one_retrieval_agrees_with_the_curves()
    {
        object?[] row =
            demo.Workspace
                .Query("SELECT ratio, lower_limit, upper_limit, series FROM read_parquet('atlas/current/agreement/*.parquet') "
                + "WHERE records = 'all'")[0];
        await using WatchedPage window = await browser.OpenAsync();
        await window.GoToAsync(Folder, "answers.html");
        string said = await window.Page.InnerTextAsync("#agreement");
        Assert.Contains($"over {row[3]} such series", said, StringComparison.Ordinal);
        Assert.All(
            row[..3],
                number =>
                Assert.Contains(((double)number!).ToString("0.00", CultureInfo.InvariantCulture), said, StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_sensitive_site_is_shown_as_it_was_published()
    {
        object?[] site =
            demo.Workspace
                .Query($"SELECT site_key, decimal_latitude FROM {AllSites} WHERE coordinates_generalised AND use = 'accepted' ORDER BY "
                + "site_key LIMIT 1")[0];
        await using WatchedPage window = await browser.OpenAsync();
        await window.GoToAsync(Folder, "map.html#site=" + Uri.EscapeDataString((string)site[0]!));
        await window.Page.WaitForSelectorAsync("#site-name");
        string panel = await window.Page.InnerTextAsync("#site");
        Assert.Contains("A sensitive site", panel, StringComparison.Ordinal);
        Assert.Contains(Math.Abs((double)site[1]!).ToString("0.00", CultureInfo.InvariantCulture), panel, StringComparison.Ordinal);
        Assert.Contains("withheld", panel, StringComparison.Ordinal);
    }

    [Fact]
    public async Task No_page_holds_what_only_the_intake_may_know()
    {
        Assert.SkipWhen(Browser.SkipBecause is not null, Browser.SkipBecause ?? "");
        await Task.CompletedTask;
        string[] mails = [
            .. Directory.EnumerateFiles(demo.Workspace.PathOf("scenario/inbox"), "datapackage.json", SearchOption.AllDirectories)
                .SelectMany(f => Mail().Matches(File.ReadAllText(f)).Select(m => m.Value)).Distinct()];
        Assert.NotEmpty(mails);
        foreach (string file in Directory.EnumerateFiles(Folder, "*", SearchOption.AllDirectories)
            .Where(f => Path.GetExtension(f) is ".html" or ".js"))
        {
            string text = File.ReadAllText(file);
            Assert.DoesNotContain(mails, mail => text.Contains(mail, StringComparison.OrdinalIgnoreCase));
        }
    }

    [Fact]
    public async Task The_quality_page_counts_what_DuckDB_counts_and_its_decisions_are_read_by_the_tool()
    {
        await using WatchedPage window = await browser.OpenAsync();
        await window.GoToAsync(Folder, "quality.html#code=masses-repeated");
        Assert.Equal(Number(demo.Workspace.Query($"SELECT count(*) FROM {AllFlags} WHERE code = 'masses-repeated'")[0][0]),
            await CountAsync(window.Page, "#flags-count"));
        Assert.Equal(
            Number(demo.Workspace.Query($"SELECT count(*) FROM {AllFlags} WHERE severity = 'suspect'")[0][0]),
            await NarrowAsync(window.Page, "severity", "suspect"));

        await window.Page.Locator("#flags tbody button").First.ClickAsync();
        string lines = await window.Page.InnerTextAsync("#decision");
        string file = Path.Combine(demo.Workspace.Folder, "copied-decisions.yaml");
        await File.WriteAllTextAsync(
            file, "version: 1\ndecisions:\n"
                + lines.Replace("because: \"\"", "because: \"Looked at and found sound.\"", StringComparison.Ordinal),
                TestContext.Current.CancellationToken);
        IReadOnlyList<Decision> decisions = DecisionsFile.Read(file).All;
        File.Delete(file);
        // one finding stands once, and is decided for all records that it is of
        Decision first = decisions[0];
        string[] records = [.. demo.Workspace.Query($"SELECT record_id FROM {AllFlags} AS f WHERE contribution_id = "
            + $"'{first.ContributionId}' AND code = '{first.FlagCode}' AND explanation = (SELECT any_value(explanation) FROM {AllFlags} "
            + $"WHERE contribution_id = f.contribution_id AND code = f.code AND record_id = '{first.Overruled!.Value.RecordId}') "
            + "ORDER BY record_id").Select(row => (string)row[0]!)];
        Assert.Equal(records, decisions.Select(d => d.Overruled!.Value.RecordId).Order(StringComparer.Ordinal));
        Assert.All(decisions, d => Assert.Equal((first.ContributionId, first.FlagCode), (d.ContributionId, d.FlagCode)));

        async Task<int> NarrowAsync(IPage page, string name, string value)
        {
            await page.ClickAsync("#narrow button[type=reset]");
            await page.SelectOptionAsync("#q-" + name, value);
            return await CountAsync(page, "#flags-count");
        }
    }

    [Theory]
    [InlineData("class/index.html")]
    [InlineData($"class/{OneContribution}.html")]
    [InlineData($"de/class/{OneContribution}.html")]
    [InlineData("de/class/2023-autumn-fernhill-explorers.html")]
    public async Task A_class_sheet_prints_on_one_page(string path)
    {
        await using WatchedPage window = await browser.OpenAsync();
        await window.GoToAsync(Folder, path);
        byte[] pdf = await window.Page.PdfAsync(new() { Format = "A4", PrintBackground = true, PreferCSSPageSize = true });
        Assert.Single(PdfPage().Matches(System.Text.Encoding.Latin1.GetString(pdf)));
    }

    [Theory]
    [InlineData("index.html")]
    [InlineData("de/index.html")]
    public async Task The_overview_prints_on_two_pages(string path)
    {
        await using WatchedPage window = await browser.OpenAsync();
        await window.GoToAsync(Folder, path);
        byte[] pdf = await window.Page.PdfAsync(new() { Format = "A4", PreferCSSPageSize = true });
        Assert.InRange(PdfPage().Count(System.Text.Encoding.Latin1.GetString(pdf)), 1, 2);
    }

    /// <summary>A4 less its margins of 14 mm is 688 pixels wide; what is wider is shrunk by the browser, letters and all. The small
    /// pictures of the overview are read as shapes.</summary>
    [Fact]
    public async Task On_paper_no_page_is_shrunk_and_no_letter_is_below_eight_points()
    {
        await using WatchedPage window = await browser.OpenAsync(688, 1000);
        await window.Page.EmulateMediaAsync(new() { Media = Media.Print });
        foreach (string path in Kinds.Except(["map.html"]).SelectMany(k => new[] { k, "de/" + k }))
        {
            await window.GoToAsync(Folder, path);
            Assert.True(await window.Page.EvaluateAsync<int>("document.documentElement.scrollWidth") <= 688, $"{path} is wider than A4");
            string[] small = path.EndsWith("index.html", StringComparison.Ordinal) && !path.Contains("s/", StringComparison.Ordinal) ? []
                : await SmallerThanAsync(window.Page, 8 / 0.75 - 0.05);
            Assert.True(small.Length == 0, $"{path}: {string.Join(" | ", small.Take(5))}");
        }
    }

    [Theory]
    [InlineData($"contributions/{OneContribution}.html", 4)]
    [InlineData($"de/contributions/{OneContribution}.html", 4)]
    [InlineData("data.html", 5)]
    [InlineData("de/data.html", 5)]
    public async Task A_page_with_a_long_table_prints_on_few_sheets(string path, int most)
    {
        await using WatchedPage window = await browser.OpenAsync();
        await window.GoToAsync(Folder, path);
        byte[] pdf = await window.Page.PdfAsync(new() { Format = "A4", PreferCSSPageSize = true });
        Assert.InRange(PdfPage().Count(System.Text.Encoding.Latin1.GetString(pdf)), 1, most);
    }

    [Fact]
    public async Task Head_page_and_foot_have_one_left_edge()
    {
        foreach (int width in new[] { 1280, 1900 })
        {
            await using WatchedPage window = await browser.OpenAsync(width);
            foreach (string path in Kinds.Where(k => k != "map.html" && !k.StartsWith("class/", StringComparison.Ordinal)))
            {
                await window.GoToAsync(Folder, path);
                double[] edges = await window.Page.EvaluateAsync<double[]>(
                    "['.brand', 'main h1', '.foot p'].map(s => Math.round(document.querySelector(s).getBoundingClientRect().left))");
                Assert.True(edges.Distinct().Count() == 1, $"{path} at {width}: {string.Join(", ", edges)}");
            }
        }
    }

    [Fact]
    public async Task A_narrow_screen_shows_which_pairs_are_told_apart_and_their_numbers()
    {
        await using WatchedPage window = await browser.OpenAsync(360, 740);
        await window.GoToAsync(Folder, "answers.html");
        string[] hidden = await window.Page.EvaluateAsync<string[]>("""
            () => Array.from(document.querySelectorAll('.pairs strong')).filter(e => {
                const box = e.getBoundingClientRect();
                return !e.checkVisibility() || box.left < 0 || box.right > 360;
              }).map(e => e.closest('li').textContent)
            """);
        Assert.Empty(hidden);
        Assert.Equal(Number(demo.Workspace.Query("SELECT count(*) FROM read_parquet('atlas/current/comparisons/*.parquet') "
            + "WHERE p_family < 0.05 AND records = 'all'")[0][0]), await window.Page.Locator(".pairs strong").CountAsync());
    }

    [Fact]
    public async Task A_map_printed_before_its_prediction_is_there_says_so()
    {
        await using WatchedPage window = await browser.OpenAsync();
        await window.Page.RouteAsync("**/prediction.js", async route =>
        {
            await Task.Delay(3000);
            await route.ContinueAsync();
        });
        await window.Page.GotoAsync(new Uri(Folder + "/").AbsoluteUri + "map.html");
        await window.Page.WaitForSelectorAsync("html[data-map=ready]", new() { State = WaitForSelectorState.Attached });
        Assert.True(await IsSaidAsync());
        await window.GoToAsync(Folder, "map.html");
        Assert.False(await IsSaidAsync());

        Task<bool> IsSaidAsync() => window.Page.EvaluateAsync<bool>("""
            () => { dispatchEvent(new Event('beforeprint')); const said = !document.getElementById('early').hidden;
              dispatchEvent(new Event('afterprint')); return said; }
            """);
    }

    [Theory]
    [InlineData(ColorScheme.Light)]
    [InlineData(ColorScheme.Dark)]
    public async Task No_page_has_a_serious_fault_of_accessibility(ColorScheme scheme)
    {
        await using WatchedPage window = await browser.OpenAsync(scheme: scheme, bypassPolicy: true);
        List<string> faults = new();
        foreach (string path in (string[])[.. Kinds, Waiting.First(), "map.html#site=lantern-hill-farm%2FS01", "map.html#of=joint"])
        {
            await window.GoToAsync(Folder, path);
            if (path.Contains("#site", StringComparison.Ordinal))
                await window.Page.WaitForSelectorAsync("#site-name");
            faults.AddRange(await Accessibility.SeriousFaultsAsync(window.Page, path, scheme));
        }

        Assert.True(faults.Count == 0, string.Join('\n', faults));
    }

    [Theory]
    [InlineData(ColorScheme.Light)]
    [InlineData(ColorScheme.Dark)]
    public async Task A_fault_of_accessibility_that_was_planted_is_found(ColorScheme scheme)
    {
        await using WatchedPage window = await browser.OpenAsync(scheme: scheme, bypassPolicy: true);
        await window.GoToAsync(Folder, "index.html");
        await window.Page.EvaluateAsync("""
            () => document.querySelector('main').insertAdjacentHTML('afterbegin',
              '<p style="color: #777; background: #888">grey on grey</p><img src="data:image/gif;base64,R0lGODlhAQABAAAAACw=">')
            """);
        string[] found = await Accessibility.SeriousFaultsAsync(window.Page, "index.html", scheme);
        Assert.Contains(found, fault => fault.Contains("color-contrast", StringComparison.Ordinal));
        // a picture without words is found once, and not in each colour
        Assert.Equal(scheme == ColorScheme.Light, found.Any(fault => fault.Contains("image-alt", StringComparison.Ordinal)));
    }

    [Fact]
    public async Task A_German_page_marks_whatever_it_says_in_English()
    {
        await using WatchedPage window = await browser.OpenAsync();
        // the title of the demo, its citation, what catalogues read, code and ids are the curator's and the senders' own words
        const string unmarked = """
            Array.from(function* () { const walk = document.createTreeWalker(document.querySelector('main'), NodeFilter.SHOW_TEXT); while (walk.nextNode()) yield walk.currentNode; }())
              .filter(n => !n.parentElement.closest('[lang=en], code, pre, script, blockquote, .hero h1, .over, .facts') && /(^|\s)(the|of|and|with|which|from|this|that|lay)(\s|$)/i.test(n.textContent)).map(n => n.textContent.trim())
            """;
        foreach (string path in Kinds.Append(Waiting.First()).Append("map.html#site=longwater-series-station%2FS05"))
        {
            await window.GoToAsync(Folder, "de/" + path);
            if (path.Contains("#site", StringComparison.Ordinal))
                await window.Page.WaitForSelectorAsync("#site-name");
            string[] found = await window.Page.EvaluateAsync<string[]>(unmarked);
            Assert.True(found.Length == 0, $"{path}: {string.Join(" | ", found.Take(5))}");
        }
    }

    [Theory]
    [InlineData("")]
    [InlineData("de/")]
    public async Task Every_picture_of_the_model_is_described_and_keeps_its_place_before_it_comes(string folder)
    {
        await using WatchedPage window = await browser.OpenAsync();
        await window.GoToAsync(Folder, folder + "model.html");
        string[] pictures =
            await window.Page
                .EvaluateAsync<string[]>(
                    "Array.from(document.querySelectorAll('main img')).map(i => i.alt + '|' + i.getAttribute('width') + '|' + "
                    + "i.closest('figure').querySelector('figcaption').innerText)");
        // the maps are pictures, all else is drawn by the page; what is drawn twice, wide and narrow, shows once
        Assert.InRange(pictures.Length, 1, 4);
        Assert.All(pictures, picture => Assert.Matches(@"^[^|]{40,}\|\d+\|.{25,}$", picture));
        string[] drawn = await window.Page.EvaluateAsync<string[]>(
            "Array.from(document.querySelectorAll('main svg.chart')).filter(s => s.checkVisibility()).map(s => "
            + "s.getAttribute('aria-label'))");
        Assert.InRange(drawn.Length, 10, 20);
        Assert.Equal(drawn.Length, drawn.Distinct().Count());
        Assert.All(drawn, told => Assert.InRange(told.Length, 40, 2000));
    }

    [Fact]
    public async Task A_group_finds_itself_by_part_of_its_name()
    {
        await using WatchedPage window = await browser.OpenAsync();
        await window.GoToAsync(Folder, "contributions/index.html");
        await window.Page.FillAsync("#name", "lantern 2023");
        Assert.Equal(1, await window.Page.Locator("table.names tbody tr:visible").CountAsync());
        Assert.Contains(OneContribution, await window.Page.InnerTextAsync("table.names tbody"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task No_page_is_wider_than_a_narrow_screen_and_no_letter_on_it_is_below_nine_pixels()
    {
        await using WatchedPage window = await browser.OpenAsync(360, 740);
        foreach (string path in Kinds.SelectMany(k => new[] { k, "de/" + k }))
        {
            await window.GoToAsync(Folder, path);
            Assert.True(
                await window.Page.EvaluateAsync<int>("document.documentElement.scrollWidth") <= 360, $"{path} is wider than 360 px");
            string[] small = await SmallerThanAsync(window.Page, 9);
            Assert.True(small.Length == 0, $"{path}: {string.Join(" | ", small.Take(5))}");
        }
    }

    [Fact]
    public async Task No_page_tells_where_a_sensitive_site_lies()
    {
        Assert.SkipWhen(Browser.SkipBecause is not null, Browser.SkipBecause ?? "");
        await Task.CompletedTask;
        (string Latitude, string Longitude)[] places = [
            .. demo.Workspace
                .Query("SELECT decimal_latitude, decimal_longitude FROM read_csv('scenario/inbox/*/sites.csv', union_by_name = true, "
                + "all_varchar = true, ignore_errors = true) WHERE coordinates_sensitive = 'yes'")
                .Select(r => ((string)r[0]!, (string)r[1]!)).Where(t => t.Item1.Length >= 6 && t.Item2.Length >= 6)];
        Assert.NotEmpty(places);
        foreach (string file in Directory.EnumerateFiles(Folder, "*", SearchOption.AllDirectories)
            .Where(f => Path.GetExtension(f) is ".html" or ".js" or ".csv" or ".json"))
        {
            // all but the last of five decimals: a few metres; what is published is the middle of a cell of 0.1 degrees. Both, since
            // another site may by chance lie on the same parallel
            string text = File.ReadAllText(file);
            Assert.DoesNotContain(places, place => new[] { place.Latitude, place.Longitude }
                .All(degrees => text.Contains(degrees.TrimStart('-')[..^1], StringComparison.Ordinal)));
        }
    }

    /// <summary>What is written in letters below a size, in pixels as they are seen.</summary>
    private static Task<string[]> SmallerThanAsync(IPage page, double pixels) => page.EvaluateAsync<string[]>("""
        least => Array.from(document.querySelectorAll('body *'))
          .filter(e => e.checkVisibility() && Array.from(e.childNodes).some(n => n.nodeType === 3 && n.data.trim() !== ''))
          .map(e => [parseFloat(getComputedStyle(e).fontSize) * (e.ownerSVGElement ? e.getScreenCTM().a : 1), e.textContent])
          .filter(([size]) => size < least).map(([size, text]) => size.toFixed(1) + ' ' + text.trim().slice(0, 30))
        """, pixels);

    private static int Number(object? value) => Convert.ToInt32(value, CultureInfo.InvariantCulture);

    private static string Rate(object? value) => ((double)value!).ToString("0.0000", CultureInfo.InvariantCulture);

    private static async Task<int> CountAsync(IPage page, string selector) =>
        int.Parse((await page.GetAttributeAsync(selector, "data-count"))!, CultureInfo.InvariantCulture);

    [GeneratedRegex("(?:href|src)=\"([^\":]*)\"")]
    private static partial Regex Link();

    [GeneratedRegex(@"[\w.+-]+@[\w.-]+\.\w+")]
    private static partial Regex Mail();

    [GeneratedRegex(@"/Type\s*/Page\b")]
    private static partial Regex PdfPage();
}
