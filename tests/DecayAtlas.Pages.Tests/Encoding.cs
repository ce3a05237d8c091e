using System.Text.RegularExpressions;

namespace DecayAtlas.Pages.Tests;

/// <summary>Nothing that came from outside becomes markup or script.</summary>
public partial class Encoding
{
    [Fact]
    public void A_hole_is_encoded_and_a_piece_is_not()
    {
        Assert.Equal("<p title=\"&lt;a b=&quot;&#x27;&quot;&gt;\"><i>x</i></p>",
            Markup.Of($"<p title=\"{"<a b=\"'\">"}\">{Markup.Trusted("<i>x</i>")}</p>").ToString());
    }

    [Fact]
    public void Letters_of_any_script_stay_and_what_turns_writing_round_goes()
    {
        Assert.Equal("Ærø Ωμέγα 土壌 \uFFFDx\uFFFD", Markup.Of($"{"Ærø Ωμέγα 土壌 \u202Ex\u0007"}").ToString());
    }

    [Fact]
    public void Hostile_names_and_notes_come_out_as_text_everywhere()
    {
        string bad = Examples.Hostile;
        ReleasedSite site =
            Examples.Site(bad, bad)
            with
            { Ecosystem = bad, LandUse = bad, Management = bad, ManagementNote = bad, CountryCode = bad, UseBecause = bad };
        ReleaseData data = new(
            bad,
            [site, Examples.Site("fair", "S1")],
            [Examples.Burial(bad, bad, bad, 0.01, treatment: null) with { Campaign = bad, Plot = bad },
            Examples.Burial("fair", "S1", "1", 0.02)],
            [HandMade.Bag($"c-{bad}", site.SiteKey, bad, bad, bad, bad, 0.5, 0.5, bad)
            with { MassBasis = bad, Condition = bad, RemainingMissingBecause = bad, UseBecause = bad }],
            [HandMade.Covariate(site.SiteKey, bad, 3, bad) with { Rule = bad, Status = bad, GridFingerprint = bad }],
            [Examples.Contribution(bad) with { Protocol = bad, Licence = bad, ContentHash = bad }, Examples.Contribution("fair")],
            [HandMade.Flag($"c-{bad}", "site", bad, "mass-gain", "reject", bad)
            with { Unit = bad, OverruledBy = bad, OverruledBecause = bad }]);
        PagesInputs inputs = Examples.Inputs(data) with
        {
            SetAside = [PublicIntake.Of(new IntakeResult(bad, IntakeOutcome.AlreadyQuarantined, new string('c', 64), bad,
                [new Finding(FindingCode.NotANumber, bad, 3, bad, bad, bad, bad) { Sheet = bad, Cell = bad, Field = bad },
                new Finding(bad, bad, 3, bad, bad, bad, bad)]))],
            CovariateTitles = new Dictionary<string, string> { [bad] = bad },
        };

        SiteFile[] files = [.. SiteMaker.Make(inputs, Examples.Options(data) with { Title = bad, Publisher = bad })];

        Assert.NotEmpty(files);
        foreach (SiteFile file in files.Where(f => !f.Path.StartsWith("assets/", StringComparison.Ordinal)))
        {
            if (file.Path == CheckInOneFile.FileName)
                Assert.Equal(HashesIn(file.Text), file.Text.Split("<script").Length - 1);
            else
                Assert.DoesNotContain("<script>", file.Text, StringComparison.OrdinalIgnoreCase);
            Assert.DoesNotContain("<img src=x", file.Text, StringComparison.OrdinalIgnoreCase);
            Assert.Matches("^[a-z0-9._/-]+$", file.Path);
        }
    }

    [Fact]
    public void A_page_keeps_scripts_and_styles_in_files_so_that_a_strict_policy_holds()
    {
        ReleaseData data = Examples.WarmerIsFaster(12);
        foreach (SiteFile file in SiteMaker.Make(Examples.Inputs(data), Examples.Options(data))
            .Where(f => f.Path.EndsWith(".html", StringComparison.Ordinal) && f.Path != CheckInOneFile.FileName))
        {
            bool hasProgram = PagePolicy.Of(file.Path) != PagePolicy.Text;
            Assert.Contains(hasProgram ? "script-src 'self' 'wasm-unsafe-eval'; style-src 'self';" : "script-src 'self'; style-src 'self';",
                file.Text, StringComparison.Ordinal);
            Assert.Equal(hasProgram ? 1 : 0, file.Text.Split("unsafe-").Length - 1);
            Assert.DoesNotMatch(InPage(), file.Text);
        }

        // what scripts do in the browser is watched there: the policy stands in every page, and a page that breaks it complains
        foreach (SiteFile script in SiteMaker.Make(Examples.Inputs(data), Examples.Options(data))
            .Where(f => f.Path.StartsWith("assets/", StringComparison.Ordinal) && f.Path.EndsWith(".js", StringComparison.Ordinal)))
        {
            Assert.DoesNotMatch(Evaluated(), script.Text);
        }
    }

    /// <summary>Scripts that the policy of a page in one file allows, each by what stands in it.</summary>
    private static int HashesIn(string page) =>
        page[page.IndexOf("script-src", StringComparison.Ordinal)..page.IndexOf("style-src", StringComparison.Ordinal)]
            .Split("'sha256-").Length - 1;

    [GeneratedRegex(@"<[^>]*\s(style|on[a-z]+)\s*=|<style|<script(?![^>]*\ssrc=)|javascript:", RegexOptions.IgnoreCase)]
    private static partial Regex InPage();

    [GeneratedRegex(@"\beval\(|new Function\(|setAttribute\([""']style|cssText")]
    private static partial Regex Evaluated();

    [Theory]
    [InlineData("2024-spring-school", "2024-spring-school")]
    [InlineData("../../etc/passwd", null)]
    [InlineData("index", null)]
    [InlineData("waiting-x", null)]
    [InlineData("Ärger", null)]
    [InlineData("", null)]
    public void A_file_is_named_by_its_id_only_where_that_is_safe(string id, string? name)
    {
        string made = FileNames.Of(id);
        Assert.Equal(name ?? made, made);
        Assert.Matches("^[a-z0-9][a-z0-9._-]*$", made);
        if (name is null)
            Assert.StartsWith("id-", made, StringComparison.Ordinal);
    }
}
