namespace DecayAtlas.EndToEnd;

/// <summary>Pages of atlases that are empty, tiny, or full of what a stranger may write, opened in a browser.</summary>
public class PagesOfOddAtlases(Browser browser) : IClassFixture<Browser>
{
    private const string Script = "</script><script>alert(1)</script>\"'><img src=x onerror=alert(2)>&amp;{{7*7}}";

    public static TheoryData<string> Atlases => ["nothing", "one site", "all rejected", "script", "long", "right to left"];

    [Theory, MemberData(nameof(Atlases))]
    public async Task They_open_at_360_pixels_without_an_error_a_dialog_or_an_empty_number(string kind)
    {
        string folder = Directory.CreateTempSubdirectory("decayatlas-odd-").FullName;
        try
        {
            PagesInputs inputs = Of(kind, folder);
            string[] files = [
                .. SiteMaker.Make(inputs,
                    new PagesOptions(NameOf(kind, "An atlas"), "A campaign", ["en", "de"], ClimateNames.Of(inputs.Data, null, null)))
                        .Select(file => Write(folder, file))];
            await using WatchedPage window = await browser.OpenAsync(360, 740);
            window.Page.Dialog += async (_, dialog) =>
            {
                window.Complaints.Add("a dialog: " + dialog.Message);
                await dialog.DismissAsync();
            };
            foreach (string path in files.Where(f => f.EndsWith(".html", StringComparison.Ordinal)))
            {
                await window.Page.GotoAsync(new Uri(Path.Combine(folder, path)).AbsoluteUri);
                if (path.EndsWith("map.html", StringComparison.Ordinal))
                    await OpenFirstSiteAsync(window, inputs.Data.Sites.Count);
                string text = await window.Page.InnerTextAsync("body");
                Assert.DoesNotMatch(@"\b(NaN|undefined|Infinity|null)\b", text);
                Assert.True(
                    await window.Page.EvaluateAsync<int>("document.documentElement.scrollWidth") <= 360, $"{path} is wider than 360 px");
                Assert.Empty(window.Complaints);
                if (kind == "script" && path.StartsWith("contributions/c-", StringComparison.Ordinal))
                    Assert.Contains("<script>alert(1)</script>", text, StringComparison.Ordinal);   // shown as it was written
            }
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static async Task OpenFirstSiteAsync(WatchedPage window, int sites)
    {
        await window.Page
            .WaitForSelectorAsync("html[data-map=ready]", new() { State = Microsoft.Playwright.WaitForSelectorState.Attached });
        if (sites == 0)
            return;
        await window.Page.ClickAsync("#listing summary");
        await window.Page.Locator("#list button").First.ClickAsync();
        await window.Page.WaitForSelectorAsync("#site:not([hidden])");
    }

    private static string Write(string folder, SiteFile file)
    {
        string path = Path.Combine(folder, file.Path);
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        File.WriteAllText(path, file.Text);
        return file.Path;
    }

    private static string NameOf(string kind, string plain) => kind switch
    {
        "script" => Script + plain,
        "long" => string.Concat(Enumerable.Repeat(plain.Replace(' ', '-'), 40)),
        "right to left" => "\u0634\u062A\u0627\u0621 \u202E" + plain + " \u05D0\u05D3\u05DE\u05D4",
        _ => plain,
    };

    private static PagesInputs Of(string kind, string folder)
    {
        string N(string plain) => NameOf(kind, plain);
        ReleasedCurve CurveOf(string litter) => new()
        {
            SiteKey = N("group"),
            Campaign = N("2024-spring"),
            Litter = litter,
            Model = "asymptotic",
            Bags = 4,
            Retrievals = 3,
            ShortestDays = 30,
            LongestDays = 120,
            TwoBagBurials = 1,
        };
        string use = kind == "all rejected" ? "rejected" : "accepted", group = N("group"), site = N("S1"),
            contribution = kind is "script" or "long" or "right to left" ? N("c-1") : "c-1", key = $"{group}/{site}";
        ReleaseData data = kind == "nothing" ? new ReleaseData("0001", [], [], [], [], [], []) : new ReleaseData(
            "0001",
            [
                HandMade.Site(group, site, contribution, 10, 20, use) with
                {
                    Ecosystem = N("forest"), LandUse = N("natural"), Management = N("none"), ManagementNote = N("by the gate"),
                    UseBecause = kind == "all rejected" ? "mass-gain" : null,
                },
            ],
            [
                HandMade.Burial(contribution, key, N("B1"), 0.012, use: use) with
                {
                    Campaign = N("2024-spring"), Plot = N("1"), FastBagId = N("F"), SlowBagId = N("L"),
                },
            ],
            [
                HandMade.Bag(contribution, key, N("B1"), N("F"), N("lot"), "fast", 0.9, 0.4, use),
                HandMade.Bag(contribution, key, N("B1"), N("L"), N("lot"), "slow", 1.6, 0.75, use),
            ],
            [HandMade.Covariate(key, N("air_temperature"), 12, "degC")],
            [HandMade.Contribution(contribution, group) with { Campaign = N("2024-spring"), Protocol = N("p1"), Licence = N("CC-BY-4.0") }],
            [
                HandMade.Flag(contribution, "bag", N("F"), "mass-gain", "reject", N("It grew.")),
                HandMade.Flag(contribution, "site", site, "coordinates-coarse", "suspect", N("Too coarse.")) with
                {
                    Measured = null, Limit = null, Unit = null, OverruledBy = N("curator"), OverruledBecause = N("known"),
                },
            ],
            [HandMade.SlowLot(contribution, N("lot"), 0.5)]);
        return new PagesInputs(data, null, [new FlagMeaning("mass-gain", "physical", "reject", "bag", "It grew.", "Weigh again.")],
            [PublicIntake.Of(new IntakeResult(N("a folder"), IntakeOutcome.AlreadyQuarantined, new string('c', 64), N("c-2"),
                [new Finding(FindingCode.NotANumber, "sites.csv", 3, N("decimal_latitude"), N("x"), N("a number"),
                    N("correct it")) { Sheet = N("sheet") }]))], folder, null, null, null, [], new Dictionary<string, string>())
        {
            Series = kind == "nothing" ? [] :
            [
                new SeriesFacts(key, N("2024-spring"), null, 3, 30, 120, 0.01,
                    0.5, [CurveOf("slow") with { RatePerDay = new(0.01), Rest = new(0.5), Aicc = -20, Weight = 1 },
                        CurveOf("fast") with { Statement = N("Too few.") }],
                    [new SeriesPoint("slow", 30, 0.9, true), new SeriesPoint("slow", 120, 0.7, true)]),
            ],
        };
    }
}
