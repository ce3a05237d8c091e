using System.Text.RegularExpressions;

namespace DecayAtlas.Cli.Tests;

public partial class HelpTexts
{
    public static TheoryData<string> Commands =>
        [.. CommandModel.Of(CommandLine.Configure).All.Where(command => command.Commands.Count == 0).Select(command => command.Path)];

    [Theory]
    [MemberData(nameof(Commands))]
    public void Every_command_explains_itself_with_an_example(string command)
    {
        StringWriter output = new();
        Assert.Equal(0, CommandLine.Run([.. command.Split(' '), "--help"], output, TextWriter.Null));
        string help = Colour().Replace(output.ToString(), "");
        Assert.Contains("DESCRIPTION:", help, StringComparison.Ordinal);
        Assert.Contains($"decayatlas {command} ", help.Split("EXAMPLES:")[1], StringComparison.Ordinal);
    }

    [GeneratedRegex("\u001b\\[[0-9;]*m")]
    private static partial Regex Colour();
}
