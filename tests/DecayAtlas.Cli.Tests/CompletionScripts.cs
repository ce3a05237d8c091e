using System.Text.RegularExpressions;

namespace DecayAtlas.Cli.Tests;

/// <summary>What the completion says is what the help says, which the command library writes from its own model.</summary>
public partial class CompletionScripts
{
    private static readonly CompletedCommand Program = CommandModel.Of(CommandLine.Configure);

    private static string Output(params string[] args)
    {
        StringWriter output = new();
        Assert.Equal(0, CommandLine.Run(args, output, TextWriter.Null));
        return output.ToString();
    }

    public static TheoryData<string> Paths => [.. Program.All.Select(command => command.Path)];

    [Theory]
    [MemberData(nameof(Paths))]
    public void Every_option_of_the_help_is_completed_and_no_other(string path)
    {
        string help = Output([.. path.Split(' ', StringSplitOptions.RemoveEmptyEntries), "--help"]);
        IEnumerable<string> explained = OptionLine().Matches(help[help.IndexOf("OPTIONS:", StringComparison.Ordinal)..])
            .Select(line => line.Groups[1].Value);
        CompletedCommand command = Program.All.Single(c => c.Path == path);
        Assert.Equal(explained.Order(), command.Options.SelectMany(option => option.Long).Order());
    }

    [Fact]
    public void Commands_and_those_of_a_branch_are_there()
    {
        Assert.All(["run", "check", "grids", "completion", "train"],
            name => Assert.Contains(Program.Commands, command => command.Name == name));
        Assert.Equal(["inspect", "add", "check"],
            Program.Commands.Single(command => command.Name == "grids").Commands.Select(command => command.Name));
    }

    [Fact]
    public void Every_list_of_known_values_belongs_to_a_parameter_that_there_is()
    {
        Assert.All(KnownValues.All, known =>
        {
            CompletedCommand command = Assert.Single(Program.All, c => c.Path == known.Key.Path);
            CompletedValue value = command.Options.Where(o => o.Names.Contains(known.Key.Parameter)).Select(o => o.Value!)
                .Concat(command.Arguments.Where(a => a.Name == known.Key.Parameter)).Single();
            Assert.Equal(ValueKind.OneOf, value.Kind);
            Assert.Equal(known.Value, value.Choices);
        });
    }

    [Theory]
    [InlineData("bash")]
    [InlineData("powershell")]
    [InlineData("zsh")]
    public void A_script_is_printed_for_each_shell_in_lines_that_every_shell_reads(string shell)
    {
        string script = Output("completion", shell);
        Assert.Contains("cross-check", script, StringComparison.Ordinal);
        Assert.DoesNotContain('\r', script);
    }

    [Fact]
    public void An_unknown_shell_is_usage_and_the_known_ones_are_named()
    {
        StringWriter error = new();
        Assert.Equal(2, CommandLine.Run(["completion", "tcsh"], TextWriter.Null, error));
        Assert.Contains("bash, powershell, zsh", error.ToString(), StringComparison.Ordinal);
    }

    [GeneratedRegex(@"^ +(?:-\w, +)?--([a-z-]+)", RegexOptions.Multiline)]
    private static partial Regex OptionLine();
}
