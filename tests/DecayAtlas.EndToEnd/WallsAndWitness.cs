namespace DecayAtlas.EndToEnd;

/// <summary>What one contribution, or a lost intake, does to a night as the curator sees it from the command line.</summary>
public sealed class WallsAndWitness : NightWork
{
    private static string Halved(string file, string text) => file == "datapackage.json"
        ? text.Replace("example-2024", "example-\\ud800", StringComparison.Ordinal) : text;

    [Fact]
    public void A_descriptor_with_half_a_letter_is_quarantined_and_the_others_are_released()
    {
        GivenConfiguration();
        GivenContribution("a-half", "g1", edit: Halved);
        GivenContribution("c2", "g2");

        ExpectRun(1, "Quarantined in this run: 1");
        Assert.Equal(1, Count("contributions"));
        Assert.Equal(1, Count("contributions", "contribution_id = 'c2'"));
    }

    [Fact]
    public void Check_tells_half_a_letter_in_one_sentence()
    {
        GivenContribution("a-half", "g1", edit: Halved);
        CommandResult check = Work.DecayAtlas("check", "inbox/a-half-1");

        Assert.Equal(1, check.ExitCode);
        Assert.Contains("datapackage.json, row 1, entry /campaign: found a text with half a letter in it", check.Output,
            StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", check.Output + check.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_lost_intake_is_told_by_run_and_verify_and_comes_back_as_if_nothing_had_happened()
    {
        GivenConfiguration();
        GivenContribution("c1", "g1");
        GivenContribution("c2", "g2");
        ExpectRun(0, "Release 0001-");
        SortedDictionary<string, string> before = Work.Bytes("atlas/releases", "atlas/intake");
        Directory.Delete(Work.PathOf("inbox"), recursive: true);
        Directory.CreateDirectory(Work.PathOf("inbox"));
        Directory.Move(Work.PathOf("atlas/intake"), Work.PathOf("elsewhere"));

        ExpectRun(3, "The intake lacks 2 of the contributions that were accepted: revision 1 of c1 is missing from intake/");
        (int code, string text) = Run("verify");
        Assert.Equal(1, code);
        Assert.Contains("revision 1 of the accepted contribution c2 is missing", text, StringComparison.Ordinal);
        Assert.Equal(3, Run("run", "--dry-run").Code);
        Assert.Equal(2, Count("contributions"));

        Directory.Move(Work.PathOf("elsewhere"), Work.PathOf("atlas/intake"));
        ExpectRun(0, "Nothing changed");
        Assert.Equal(0, Run("verify").Code);
        Assert.Equal(before, Work.Bytes("atlas/releases", "atlas/intake"));
    }
}
