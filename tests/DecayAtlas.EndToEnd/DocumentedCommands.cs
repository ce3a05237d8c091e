using System.Text.RegularExpressions;

namespace DecayAtlas.EndToEnd;

/// <summary>Every command and every SQL query in the how-to pages, run in the order in which a reader meets them.</summary>
public sealed partial class DocumentedCommands(DocumentedCommands.Clone clone) : IClassFixture<DocumentedCommands.Clone>
{
    private Workspace Work => clone.Work;

    /// <summary>What a reader has after the two commands of the README.</summary>
    public sealed class Clone : IDisposable
    {
        public Clone(DemoRun demo)
        {
            foreach (string folder in new[] { "schemas", "docs", "pipeline" })
                Workspace.CopyTree(Project.PathOf(folder), Work.PathOf(folder));
            if (Workspace.CanCopy)
            {
                foreach (string folder in new[] { "atlas", "scenario" })
                    Work.Copy(demo.Workspace, folder);
            }
            else
            {
                Assert.Equal(0, Work.DecayAtlas("run", "pipeline/demo.yaml").ExitCode);
            }
        }

        public Workspace Work { get; } = new();

        /// <summary>The commands that were run, on whichever page: one that stands on two, such as train, is run on the first.</summary>
        public HashSet<string> Ran { get; } = new(StringComparer.Ordinal);

        public void Dispose() => Work.Dispose();
    }

    [Theory]
    [InlineData("docs/for-curators.md")]
    [InlineData("docs/for-modellers.md")]
    [InlineData("docs/for-researchers.md")]
    [InlineData("docs/for-contributors.md")]
    [InlineData("docs/grids.md")]
    public void Every_command_on_the_page_works(string page)
    {
        string text = File.ReadAllText(Project.PathOf(page));
        int ran = 0;
        foreach (Match block in Blocks().Matches(text))
        {
            string language = block.Groups[1].Value, body = block.Groups[2].Value;
            if (language == "sql")
            {
                Assert.NotEmpty(Work.Query(body));
                ran++;
            }
            else if (language == "sh")
            {
                foreach (string line in body.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)
                    .Where(l => !l.StartsWith('#')))
                {
                    RunLine(page, line);
                    ran++;
                }
            }
        }

        Assert.True(ran > 0, $"{page} shows no command");
    }

    private void RunLine(string page, string line)
    {
        int comment = line.IndexOf('#', StringComparison.Ordinal);
        string command = (comment < 0 ? line : line[..comment]).Trim();
        int expected = comment >= 0 && line.Contains("ends with exit code 1", StringComparison.Ordinal) ? 1 : 0;
        if (command.StartsWith("decayatlas ", StringComparison.Ordinal))
        {
            if (!clone.Ran.Add(command))
                return;
            string[] args = [.. Argument().Matches(command["decayatlas ".Length..]).Select(m => m.Value.Trim('"'))];
            // a process of its own would compile its code anew; only kits go into the folder where one stands
            CommandResult result = args[0] == "kit" ? Work.DecayAtlas(args) : Work.DecayAtlasHere(args);
            Assert.True(result.ExitCode == expected, $"{page}: {line}\nexit code {result.ExitCode}\n{result.Everything}");
        }
        else
        {
            Assert.SkipUnless(Command.Has("bash"), "bash is not installed");
            CommandResult result = Command.Run(Work.Folder, "bash", "-c", command);
            Assert.True(result.ExitCode == expected, $"{page}: {line}\nexit code {result.ExitCode}\n{result.Everything}");
        }
    }

    [GeneratedRegex("\"[^\"]*\"|\\S+")]
    private static partial Regex Argument();

    [GeneratedRegex("^```(\\w+)\\n(.*?)^```", RegexOptions.Singleline | RegexOptions.Multiline)]
    private static partial Regex Blocks();
}
