using DecayAtlas.Contributions;
using DecayAtlas.Pages;
using DecayAtlas.Pages.Reading;
using DecayAtlas.Pages.Site;

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
            string[] files = [.. SiteMaker.Make(inputs, new PagesOptions(NameOf(kind, "An atlas"), "A campaign", ["en", "de"], ClimateNames.Of(inputs.Data, null, null))).Select(file => Write(folder, file))];
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
                Assert.True(await window.Page.EvaluateAsync<int>("document.documentElement.scrollWidth") <= 360, $"{path} is wider than 360 px");
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
        await window.Page.WaitForSelectorAsync("html[data-map=ready]", new() { State = Microsoft.Playwright.WaitForSelectorState.Attached });
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
        string use = kind == "all rejected" ? "rejected" : "accepted", group = N("group"), site = N("S1"), contribution = kind is "script" or "long" or "right to left" ? N("c-1") : "c-1", key = $"{group}/{site}";
        var data = kind == "nothing" ? new ReleaseData("0001", [], [], [], [], [], []) : new ReleaseData(
            "0001",
            [new SiteFacts(key, group, contribution, 10, 20, 30, false, "XA", N("forest"), N("natural"), N("none"), N("by the gate"), 100, use, kind == "all rejected" ? "mass-gain" : null)],
            [new BurialFacts(contribution, N("B1"), key, N("2024-spring"), N("1"), null, N("F"), N("L"), new DateOnly(2024, 3, 1), new DateOnly(2024, 5, 30), 90, 8, 0.4, 0.75, 0.25, 0.02, null, 0.012, 0.001, null, 0.5, use, null)],
            [new BagFacts(contribution, N("F"), N("B1"), key, N("lot"), "fast", 2.1, 0.9, "litter", "intact", 0.4, null, use, null), new BagFacts(contribution, N("L"), N("B1"), key, N("lot"), "slow", 2.1, 1.6, "litter", "intact", 0.75, null, use, null)],
            [new CovariateFacts(key, N("air_temperature"), 12, "degC", "bilinear", "sampled", new string('a', 64))],
            [new ContributionFacts(contribution, 1, group, N("2024-spring"), N("p1"), new DateOnly(2024, 6, 1), N("CC-BY-4.0"), new string('b', 64), 1, 2, 1)],
            [new FlagFacts(contribution, "bag", N("F"), "mass-gain", "reject", 1.2, 1.1, "1", N("It grew."), null, null, null), new FlagFacts(contribution, "site", site, "coordinates-coarse", "suspect", null, null, null, N("Too coarse."), N("curator"), N("known"), null)]);
        return new PagesInputs(data, null, [new FlagMeaning("mass-gain", "physical", "reject", "bag", "It grew.", "Weigh again.")],
            [PublicIntake.Of(new IntakeResult(N("a folder"), IntakeOutcome.AlreadyQuarantined, new string('c', 64), N("c-2"),
                [new Finding(FindingCode.NotANumber, "sites.csv", 3, N("decimal_latitude"), N("x"), N("a number"), N("correct it")) { Sheet = N("sheet") }]))], folder, null, null, null, [], new Dictionary<string, string>())
        {
            Series = kind == "nothing" ? [] :
            [
                new SeriesFacts(key, N("2024-spring"), null, 3, 30, 120, 0.01, 0.5, [new CurveFacts("slow", "asymptotic", null, 0.01, null, null, 0.5, null, -20, 1), new CurveFacts("fast", "asymptotic", N("Too few."), null, null, null, null, null, null, null)],
                    [new SeriesPoint("slow", 30, 0.9, true), new SeriesPoint("slow", 120, 0.7, true)]),
            ],
        };
    }
}
