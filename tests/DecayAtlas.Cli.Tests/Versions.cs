using System.Reflection;

namespace DecayAtlas.Cli.Tests;

public class Versions
{
    /// <summary>Semantic Versioning 2.0.0: what follows + is build metadata.</summary>
    [Theory]
    [InlineData("0.1.0+2664bfeb81c5d6a0f3a8d0a1f9d3e2c1b0a99887", "0.1.0+2664bfe")]
    [InlineData("0.1.0", "0.1.0")]
    [InlineData("1.2.3-rc.1+2664bfeb81c5", "1.2.3-rc.1+2664bfe")]
    public void The_commit_is_shown_as_git_shows_it_and_left_out_where_there_is_none(string built, string shown) =>
        Assert.Equal(shown, ProgramVersion.Of(built));

    [Fact]
    public void The_version_is_printed()
    {
        StringWriter output = new();
        Assert.Equal(0, CommandLine.Run(["--version"], output, TextWriter.Null));
        Assert.Matches(@"^\d+\.\d+\.\d+(\+[0-9a-f]{7})?\s*$", output.ToString());
    }

    [Fact]
    public void Only_the_program_carries_the_commit_so_that_one_that_changes_no_code_has_nothing_computed_again()
    {
        string[] libraries = Directory.GetFiles(AppContext.BaseDirectory, "DecayAtlas.*.dll");
        Assert.NotEmpty(libraries);
        Assert.All(libraries, file => Assert.Matches(
            @"^\d+\.\d+\.\d+$",
            Assembly.LoadFrom(file).GetCustomAttribute<AssemblyInformationalVersionAttribute>()!.InformationalVersion));
    }
}
