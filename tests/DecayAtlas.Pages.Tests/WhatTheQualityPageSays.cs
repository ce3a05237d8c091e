using System.Text.RegularExpressions;

namespace DecayAtlas.Pages.Tests;

/// <summary>The page for the curator: what is to be decided first, and one finding once.</summary>
public partial class WhatTheQualityPageSays
{
    private static readonly string[] Groups = ["g0", "g1"];

    [Fact]
    public void What_is_to_be_decided_stands_first_and_all_else_is_folded()
    {
        string page = Page([Flag("g0", "1-F", "mass-gain", "reject", "It grew."), Flag("g0", "2-F", "quiet", "note", "As told."),
            Flag("g1", "3-F", "done", "suspect", "Odd.") with { OverruledBy = "curator" }]);
        (string decide, string folded) = page.Split("class=\"folded\"") is [var first, var second] ? (first, second) : ("", "");
        Assert.Contains("<b>more litter after than before</b> <span class=\"nothing\">mass-gain</span>", decide, StringComparison.Ordinal);
        Assert.DoesNotContain("<b>quiet</b>", decide, StringComparison.Ordinal);
        Assert.DoesNotContain("<b>done</b>", decide, StringComparison.Ordinal);
        Assert.Contains("<b>quiet</b>", folded, StringComparison.Ordinal);
        Assert.Contains("<b>done</b>", folded, StringComparison.Ordinal);
        // nothing is open by itself
        Assert.DoesNotMatch("<details[^>]* open", page);
    }

    [Fact]
    public void A_page_without_anything_to_decide_says_so() => Assert.Contains("Nothing is left to decide.",
        Page([Flag("g0", "1-F", "quiet", "note", "As told.")]), StringComparison.Ordinal);

    [Fact]
    public void One_finding_of_many_bags_stands_once_and_names_them_all()
    {
        string rows = Rows(Page([
            .. Enumerable.Range(1, 40).Select(i => Flag("g0", $"b{i}", "tare-missing", "suspect", "Lot L1 has no tare.")),
            Flag("g0", "b41", "tare-missing", "suspect", "Lot L2 has no tare.")]));
        Assert.Equal(2, Row().Count(rows));
        Assert.Contains("and 39 more with the same finding", rows, StringComparison.Ordinal);
        Assert.All(Enumerable.Range(1, 41), i => Assert.Contains($"bag b{i}<", rows, StringComparison.Ordinal));
    }

    [Fact]
    public void What_is_about_a_lot_stands_once_for_all_groups_that_use_it_and_what_is_not_once_for_each()
    {
        ReleasedFlag[] flags = [.. Groups.SelectMany(g => new[] { Flag(g, "b1", "of-lot", "note", "Lot L1 says nothing."),
            Flag(g, "b1", "of-bag", "note", "The bag says nothing.") })];
        string rows = Rows(Page(flags));
        Assert.Equal(3, Row().Count(rows));
        Assert.Contains("data-of-lots=\"of-lot\"", Page(flags), StringComparison.Ordinal);
    }

    [Fact]
    public void The_count_of_flags_stays_that_of_the_table() => Assert.Contains("data-flags=\"40\"",
        Page([.. Enumerable.Range(1, 40).Select(i => Flag("g0", $"b{i}", "tare-missing", "suspect", "Lot L1 has no tare."))]),
        StringComparison.Ordinal);

    private static string Page(ReleasedFlag[] flags)
    {
        ReleaseData few = Examples.WarmerIsFaster(2), data = new(few.ReleaseId, few.Sites, few.Burials, [], few.Covariates,
            few.Contributions, flags);
        PagesInputs inputs = Examples.Inputs(data) with
        {
            FlagMeanings = [new("of-lot", "protocol", "note", "bag", "Of a lot.", "Ask.") { IsOfLot = true },
                new("of-bag", "protocol", "note", "bag", "Of a bag.", "Ask.")],
        };
        return SiteMaker.Make(inputs, Examples.Options(data)).Single(f => f.Path == "quality.html").Text;
    }

    private static string Rows(string page) => page.Split("<tbody>")[^1];

    private static ReleasedFlag Flag(string group, string bag, string code, string severity, string said) =>
        HandMade.Flag($"c-{group}", "bag", bag, code, severity, said);

    [GeneratedRegex("<tr>", RegexOptions.NonBacktracking)]
    private static partial Regex Row();
}
