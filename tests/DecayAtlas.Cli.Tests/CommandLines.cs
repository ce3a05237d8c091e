namespace DecayAtlas.Cli.Tests;

public class CommandLines
{
    private static (int Code, string Output, string Error) Run(params string[] args)
    {
        (StringWriter? output, StringWriter? error) = (new StringWriter(), new StringWriter());
        return (CommandLine.Run(args, output, error), output.ToString(), error.ToString());
    }

    [Fact]
    public void Every_stage_of_the_flow_is_a_command() =>
        Assert.Equal(Flow.StageNames, CommandLine.StageDescriptions.Select(d => d.Stage));

    [Fact]
    public void Help_lists_every_stage()
    {
        (int code, string output, _) = Run("--help");
        Assert.Equal(0, code);
        Assert.All(Flow.StageNames, stage => Assert.Contains(stage, output, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("fly")]
    [InlineData("run")]
    [InlineData("run", "a.yaml", "b.yaml")]
    [InlineData("run", "a.yaml", "--colour")]
    [InlineData("demo", "folder", "--seed", "many")]
    [InlineData("sensitivity", "a.yaml", "--h-fast", "abc")]
    public void A_wrong_command_line_is_usage_and_points_to_the_help(params string[] args)
    {
        (int code, _, string error) = Run(args);
        Assert.Equal(2, code);
        Assert.Contains("--help", error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("check", "chekc", "x")]
    [InlineData("run", "runn", "p.yaml")]
    [InlineData("inspect", "grids", "inspec", "x")]
    [InlineData("--dry-run", "run", "p.yaml", "--dryrun")]
    [InlineData("--ratio", "plan", "--raito", "1.2")]
    public void A_slip_in_a_command_or_an_option_is_told_with_what_was_meant(string meant, params string[] args)
    {
        (int code, _, string error) = Run(args);
        Assert.Equal(2, code);
        Assert.Contains($"Did you mean {meant}?", error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_table_has_columns_as_wide_as_they_must_be()
    {
        StringWriter output = new() { NewLine = "\n" };
        new Screen(output, TextWriter.Null).Table(["code", "count"], [["mass-gain", "3"], ["x", "1200"]]);
        Assert.Equal("  code       count\n  mass-gain      3\n  x           1200\n", output.ToString());
    }

    [Fact]
    public void Checking_what_is_not_there_is_usage_not_a_crash()
    {
        (int code, string output, string error) = Run("check", "no-such-folder");
        Assert.Equal(2, code);
        Assert.Contains("no-such-folder", output + error, StringComparison.Ordinal);
    }
}
