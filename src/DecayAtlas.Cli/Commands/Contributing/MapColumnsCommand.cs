using System.ComponentModel;
using System.Text;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Contributing;

/// <summary>Proposes a mapping for an unknown wide table and writes it for a person to finish.</summary>
internal sealed class MapColumnsCommand(Screen screen) : PlainCommand<MapColumnsCommand.Settings>
{
    internal sealed class Settings : CommandSettings
    {
        [CommandArgument(0, "<FILE>")]
        [Description("A wide table: .xlsx, .csv, .tsv or .txt.")]
        public required string File { get; init; }

        [CommandOption("--sheet <NAME>")]
        [Description("The sheet to map, where a workbook has several.")]
        public string? Sheet { get; init; }

        [CommandOption("--output <FILE>")]
        [Description(
            "Where the mapping is written; NAME.mapping.yaml beside the table unless stated. A file that is there is not overwritten.")]
        public string? Output { get; init; }
    }

    protected override int Execute(Settings settings)
    {
        NamedPath.RequireFile(settings.File, "table");
        string output = settings.Output ?? Path.ChangeExtension(settings.File, null) + ".mapping.yaml";
        if (File.Exists(output))
        {
            throw new ConfigurationException($"{output} is there already and may hold somebody's decisions; move it away, or name "
                + "another file with --output.");
        }

        (MappingProposal? proposal, IReadOnlyList<Finding> findings) =
            MappingProposal.For(settings.File, IntakeLimits.Default, settings.Sheet);
        screen.Lines(findings);
        if (proposal is null)
            return RecordedRun.NeedsPerson;
        using (FileStream stream = new(output, FileMode.CreateNew, FileAccess.Write))
            stream.Write(new UTF8Encoding(false).GetBytes(proposal.Text));
        screen.Line($"{output}: {proposal.Decisions} decisions are left to you, each marked TODO or listed under undecided, with a "
            + $"remark. Then run: decayatlas check {settings.File}");
        return RecordedRun.Done;
    }
}
