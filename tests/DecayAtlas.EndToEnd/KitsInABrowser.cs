using System.Text;
using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace DecayAtlas.EndToEnd;

/// <summary>The pages of a kit as a group opens and prints them.</summary>
public sealed partial class KitsInABrowser(Browser browser) : IClassFixture<Browser>, IDisposable
{
    // of 15 holes, that is 30 labels, 18 to a page
    private static readonly Dictionary<string, int> Pages = new()
    {
        ["start"] = 1,
        ["cautions"] = 1,
        ["experiment"] = 2,
        ["labels"] = 2,
        ["weighing"] = 1,
        ["burial"] = 2,
        ["digging"] = 2,
    };

    private readonly Workspace _work = new();

    [Theory]
    [InlineData("de", 360, ColorScheme.Dark)]
    [InlineData("fr", 360, ColorScheme.Light)]
    public async Task Every_page_fits_the_screen_and_has_no_fault_that_axe_finds(
        string language, int width, ColorScheme scheme)
    {
        string folder = Make(language, "a4");
        await using WatchedPage window = await browser.OpenAsync(width, scheme: scheme, bypassPolicy: true);
        List<string> faults = [];
        foreach (string name in Pages.Keys)
        {
            await window.GoToAsync(folder, name + ".html");
            faults.AddRange(await Accessibility.SeriousFaultsAsync(window.Page, $"{language} {name}", scheme));
            int wide = await window.Page.EvaluateAsync<int>(
                "() => document.documentElement.scrollWidth - document.documentElement.clientWidth");
            if (wide > 0)
                faults.Add($"{language} {name}: {wide} px wider than the window");
        }

        Assert.Empty(faults);
    }

    [Theory]
    [InlineData("a4", "de")]
    [InlineData("letter", "es")]
    public async Task Every_page_opens_from_disk_and_is_printed_whole_on_so_many_sheets_of_its_paper(string paper, string language)
    {
        string folder = Make(language, paper);
        // what the paper of the style is, in points (ISO 216; ANSI/ASME Y14.1)
        (double across, double down) = paper == "a4" ? (595.3, 841.9) : (612.0, 792.0);
        await using WatchedPage window = await browser.OpenAsync();
        foreach ((string name, int sheets) in Pages)
        {
            await window.GoToAsync(folder, name + ".html");
            string pdf = Encoding.Latin1.GetString(await window.Page.PdfAsync(new() { PreferCSSPageSize = true }));
            double[][] boxes = [.. MediaBox().Matches(pdf).Select(box => box.Groups.Values.Skip(1).Select(g => double.Parse(g.Value,
                System.Globalization.CultureInfo.InvariantCulture)).Order().ToArray())];

            Assert.True(sheets == boxes.Length, $"{language} {name}: {boxes.Length} sheets of {paper}, expected {sheets}");
            Assert.All(boxes, box => Assert.True(
                Math.Abs(box[0] - across) < 2 && Math.Abs(box[1] - down) < 2, $"{name}: {box[0]} x {box[1]}"));

            // as printed, at the width of the paper between its margins
            await window.Page.EmulateMediaAsync(new() { Media = Media.Print });
            bool lies = name is "burial" or "digging";
            await window.Page.SetViewportSizeAsync((int)(((lies ? down : across) - 68) * 96 / 72), 900);
            Assert.Empty(await window.Page.EvaluateAsync<string[]>(
                """
                () => [...document.querySelectorAll('main *')].filter(e => e.getClientRects().length).flatMap(e => {
                  const style = getComputedStyle(e), said = e.textContent.trim().slice(0, 40), faults = [];
                  const own = [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim());
                  if (own && parseFloat(style.fontSize) < 11.99) faults.push(`${style.fontSize}: ${said}`);
                  if (e.getBoundingClientRect().right > document.documentElement.clientWidth + 1) faults.push(`beyond the paper: ${said}`);
                  if (e.matches('.label') && e.scrollHeight > e.clientHeight + 1) faults.push(`cut off: ${said}`);
                  if (e.matches('td, th') && e.scrollWidth > e.clientWidth + 1) faults.push(`wider than its cell: ${said}`);
                  return faults;
                })
                """));
            await window.Page.EmulateMediaAsync(new() { Media = Media.Null });
        }

        Assert.Empty(window.Complaints);
    }

    public void Dispose() => _work.Dispose();

    private string Make(string language, string paper)
    {
        File.Copy(Project.PathOf("docs/examples/campaign.yaml"), _work.PathOf("campaign.yaml"), overwrite: true);
        CommandResult made = _work.DecayAtlasHere("kit", "campaign.yaml", "--group", "quillmoor-upper-school", "--language", language,
            "--paper", paper, "--output", "kits");
        Assert.True(made.ExitCode == 0, made.Everything);
        return _work.PathOf("kits/quillmoor-upper-school");
    }

    [GeneratedRegex(@"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]")]
    private static partial Regex MediaBox();
}
