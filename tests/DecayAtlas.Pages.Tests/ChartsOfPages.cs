using System.Globalization;
using System.Text.RegularExpressions;

namespace DecayAtlas.Pages.Tests;

/// <summary>How charts stand on pages, and the charts of a model.</summary>
public sealed partial class ChartsOfPages : IDisposable
{
    private const string Card = """
        { "model_id": "m-1", "winner": "linear", "covariates": [{ "name": "warmth", "unit": "degC", "title": "Warmth" }],
          "scores": [{ "name": "mean", "title": "Mean", "blocked": { "pooled": { "rmse": 0.4, "r2": 0 } } },
            { "name": "linear", "title": "Linear", "blocked": { "pooled": { "rmse": 0.2, "r2": 0.5 } } }],
          "findings": { "effects": [{ "covariate": "warmth", "values": [1, 5, 9], "effects": [-0.5, 0, 0.5] },
              { "covariate": "clay", "values": [1, 5, 9], "effects": [-0.01, 0, 0.01] }],
            "learning_curve": [{ "mean_sites": 50, "rmse": 0.19 }, { "mean_sites": 200, "rmse": 0.16 }],
            "interval": { "level": 0.9, "base": 0.1, "slope": 0.5, "quantile": 2 }, "applicability": { "threshold": 0.2 } } }
        """;

    private readonly string _folder = Directory.CreateTempSubdirectory().FullName;

    public void Dispose() => Directory.Delete(_folder, true);

    /// <summary>At 360 pixels a figure has 305 for its chart: 360 less 16 on either side of the page and 10.4 within the figure, and its
    /// two lines; letters are 12.5 of the chart's own units.</summary>
    [Fact]
    public void No_letter_of_a_chart_is_below_nine_pixels_on_a_phone()
    {
        string[] pages = [.. Make().Where(f => f.Path.EndsWith(".html", StringComparison.Ordinal)).Select(f => f.Text)];
        (string Kind, double Width)[] charts = [.. pages.SelectMany(p => Chart().Matches(p)).Select(m =>
            (m.Groups["kind"].Value, double.Parse(m.Groups["width"].Value, CultureInfo.InvariantCulture)))];
        Assert.Contains(charts, c => c.Kind == " wide");
        Assert.All(charts.Where(c => c.Kind != " wide"), c => Assert.True(12.5 * 305 / c.Width >= 9, $"{c.Width}"));
        Assert.Equal(charts.Count(c => c.Kind == " wide"), charts.Count(c => c.Kind == " slender"));
    }

    [Theory]
    [InlineData("change of ln k: ", 2)]
    [InlineData("Scatter of measured over predicted ln k", 1)]
    [InlineData("Sites by longitude and latitude", 1)]
    [InlineData("Error of predicted ln k over how unlike", 1)]
    [InlineData("Error of predicted ln k at places held back", 1)]
    public void The_pictures_of_a_card_are_drawn_once_and_none_is_fetched(string told, int times)
    {
        string page = Model();
        Assert.DoesNotContain("<img src=\"model/", page, StringComparison.Ordinal);
        Assert.Equal(times, page.Split($"aria-label=\"{told}").Length - 1);
    }

    [Fact]
    public void The_map_of_residuals_has_the_coast_that_was_given()
    {
        Assert.Contains("class=\"coast thin\"", Model([[[9, 9], [12, 9], [12, 12], [9, 12]]]), StringComparison.Ordinal);
        Assert.DoesNotContain("class=\"coast thin\"", Model(), StringComparison.Ordinal);
    }

    [Fact]
    public void Responses_share_one_scale_so_that_a_weak_one_looks_weak()
    {
        // from -0.5 to 0.5 both: the marks of the strong covariate stand beside the weak one too
        string[] charts = [.. Model().Split("<svg class=\"chart\"").Select(c => c.Split("</svg>")[0])
            .Where(c => c.Contains("Warmth", StringComparison.Ordinal) || c.Contains(">clay<", StringComparison.Ordinal))];
        Assert.Equal(2, charts.Length);
        Assert.All(charts, chart => Assert.Matches(@">−0\.4<|>−0\.5<", chart));
    }

    [Fact]
    public void Candidates_are_sorted_by_their_error() => Assert.Matches("(?s)Linear.*0\\.200.*Mean.*0\\.400", Model());

    [Theory]
    [InlineData("place,observed\na,1\n")]
    [InlineData("site_key,observed\na\n")]
    public void A_table_of_another_form_is_one_sentence_that_says_what_to_do(string table)
    {
        File.WriteAllText(Path.Combine(_folder, HeldOutFacts.FileName), table);
        Assert.EndsWith("held-out.csv can't be read as held-out predictions; delete its folder and run again.",
            Assert.Throws<PagesException>(() => HeldOutFacts.Read(_folder, ["warmth"])).Message, StringComparison.Ordinal);
    }

    private string Model(double[][][]? land = null) => Make(land).Single(f => f.Path == "model.html").Text;

    private IEnumerable<SiteFile> Make(double[][][]? land = null)
    {
        File.WriteAllText(Path.Combine(_folder, "card.json"), Card);
        File.WriteAllText(Path.Combine(_folder, HeldOutFacts.FileName), "site_key,decimal_latitude,decimal_longitude,observed,predicted,"
            + "dissimilarity,warmth\n" + string.Concat(Enumerable.Range(0, 12).Select(i => FormattableString.Invariant(
                $"s{i},{10 + 0.1 * i},{10 + 0.15 * (i * 5 % 12)},{-5 + 0.1 * i},{-5.1 + 0.12 * i},{0.02 * i},{i}\n"))));
        ReleaseData data = Examples.WarmerIsFaster(12);
        return [.. SiteMaker.Make(Examples.Inputs(data) with
        {
            Model = ModelFolder.Read(_folder),
            Land = land is null ? [] : [land],
            CovariateTitles = new Dictionary<string, string> { ["warmth"] = "Warmth" },
        }, Examples.Options(data))];
    }

    [GeneratedRegex("<svg class=\"chart(?<kind>[a-z ]*)\" viewBox=\"0 0 (?<width>\\d+) ", RegexOptions.NonBacktracking)]
    private static partial Regex Chart();
}
