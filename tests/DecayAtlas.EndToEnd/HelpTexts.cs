namespace DecayAtlas.EndToEnd;

public class HelpTexts(DemoRun demo)
{
    public static TheoryData<string> Commands =>
        ["run", "ingest", "snap", "compute", "cross-check", "publish", "train", "map", "check", "map-columns", "compare", "uncertainty",
        "predict", "regions", "difference", "warmth", "plan", "figures", "verify", "prune", "serve", "demo", "completion", "grids inspect",
            "grids add", "grids check"];

    [Theory]
    [MemberData(nameof(Commands))]
    public void Every_command_explains_itself_with_an_example(string command)
    {
        CommandResult help = demo.Workspace.DecayAtlas([.. command.Split(' '), "--help"]);
        Assert.Equal(0, help.ExitCode);
        Assert.Contains("DESCRIPTION:", help.Output, StringComparison.Ordinal);
        Assert.Contains("EXAMPLES:", help.Output, StringComparison.Ordinal);
        Assert.Contains($"decayatlas {command} ", help.Output, StringComparison.Ordinal);
    }
}
