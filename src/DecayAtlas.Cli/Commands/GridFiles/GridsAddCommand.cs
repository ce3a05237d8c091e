using System.ComponentModel;
using System.Text.RegularExpressions;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.GridFiles;

/// <summary>Writes a catalogue entry for a grid file from what the file says.</summary>
internal sealed partial class GridsAddCommand(Screen screen) : PlainCommand<GridsAddCommand.Settings>
{
    internal sealed class Settings : GridLayerSettings
    {
        [CommandArgument(0, "<CATALOGUE>")]
        [Description("The catalogue (YAML); it is made where there is none.")]
        public required string Catalogue { get; init; }

        [CommandArgument(1, "<FILE>")]
        [Description("A GeoTIFF, NetCDF or Esri ASCII grid; a name with * stands for the tiles of one grid.")]
        public required string File { get; init; }

        [CommandOption("--name <NAME>", isRequired: true)]
        [Description("Name of the covariate: lower-case letters, digits and underscores.")]
        public required string Name { get; init; }

        [CommandOption("--title <TEXT>")]
        [Description("What the number is, in words.")]
        public string? Title { get; init; }

        [CommandOption("--unit <UNIT>")]
        [Description("Unit of the values; 1 for a pure number. Needed where the file says none.")]
        public string? Unit { get; init; }

        [CommandOption("--kind <KIND>")]
        [Description("continuous or class.")]
        public string? Kind { get; init; }

        [CommandOption("--rule <RULE>")]
        [Description("nearest, bilinear, disc or mode.")]
        public string? Rule { get; init; }

        [CommandOption("--valid-within <METRES>")]
        [Description("How far to look for a cell with a value.")]
        public double? ValidWithin { get; init; }

        [CommandOption("--source <TEXT>")]
        [Description("Where the grid comes from, and its licence.")]
        public string? Source { get; init; }

        [CommandOption("--json")]
        [Description("Print the result as JSON and nothing else.")]
        public bool Json { get; init; }
    }

    internal static IReadOnlyList<string> Kinds { get; } = ["continuous", "class"];

    internal static IReadOnlyList<string> Rules { get; } = ["nearest", "bilinear", "disc", "mode"];

    protected override int Execute(Settings settings)
    {
        RequireSense(settings);
        GridInspection found = GridInspection.Of(settings.File, settings.ReadOptions());
        RequireChoice(found, settings);
        if (found.Refusal is { } refusal)
            throw new GridException(refusal.Replace("in the catalogue", "with --crs", StringComparison.Ordinal));
        string folder = Path.GetDirectoryName(Path.GetFullPath(settings.Catalogue))!;
        string file = Path.GetRelativePath(folder, Path.GetFullPath(settings.File)).Replace(Path.DirectorySeparatorChar, '/');
        EntryProposal proposal = EntryProposal.For(found, settings.Name, file, new EntryWishes(
            settings.Title, settings.Unit, settings.Kind, settings.Rule, settings.ValidWithin, settings.Source));
        CatalogueEntry entry = CatalogueText.Add(settings.Catalogue, settings.Name, proposal);
        IReadOnlyList<CatalogueFinding> findings = CatalogueCheck.OfEntry(entry);
        if (settings.Json)
        {
            screen.Json(new { catalogue = settings.Catalogue, entry = proposal.Text, reasons = proposal.Reasons, findings });
        }
        else
        {
            screen.Line($"Added to {settings.Catalogue}:");
            screen.Lines(proposal.Text.Select(line => "  " + line));
            screen.Lines(proposal.Reasons);
            screen.Lines(findings);
        }

        return findings.Count == 0 ? RecordedRun.Done : RecordedRun.NeedsPerson;
    }

    // an inspection looks at the first of several; an entry that was not chosen would be a guess
    private static void RequireChoice(GridInspection found, Settings settings)
    {
        GridReadOptions asked = settings.ReadOptions();
        IReadOnlyList<GridLayer> layers = found.Description.Layers;
        if (settings.Band is null && found.Layer.Variable is null && layers.Count > 1)
        {
            throw new ConfigurationException($"{found.Path} holds {layers.Count} bands: "
                + $"{string.Join(", ", layers.Select(l => l.Title is { } title ? $"{l.Band} ({title})" : $"{l.Band}"))}; name one with "
                + "--band.");
        }

        if (asked.Variable is null && found.Layer.Variable is not null && layers.Count > 1)
        {
            throw new ConfigurationException($"{found.Path} holds {layers.Count} variables: "
                + $"{string.Join(", ", layers.Select(l => l.Variable))}; name one with --variable.");
        }

        foreach (GridDimension open in found.Layer.Dimensions.Where(d => d.Steps.Count > 1 && asked.Select?.ContainsKey(d.Name) != true))
        {
            string allSteps = open.IsTime ? "; an entry made of all steps is written by hand, with months or series" : "";
            throw new ConfigurationException($"{found.Path} holds {open.Steps.Count} steps of {open.Name}; name one with --select "
                + $"{open.Name}=..., for example --select {open.Name}={open.Steps[0]}{allSteps}.");
        }
    }

    private static void RequireSense(Settings settings)
    {
        GridFileSettings.RequireFile(settings.File);
        if (!NamePattern().IsMatch(settings.Name))
        {
            throw new ConfigurationException($"--name is {settings.Name}, and a lower-case letter, then lower-case letters, digits and "
                + "underscores, at most 60, were expected.");
        }

        if (settings.Kind is { } kind && !Kinds.Contains(kind))
            throw new ConfigurationException($"--kind is {kind}, and continuous or class was expected.");
        if (settings.Rule is { } rule && !Rules.Contains(rule))
            throw new ConfigurationException($"--rule is {rule}, and nearest, bilinear, disc or mode was expected.");
        if (settings.ValidWithin is { } metres && !(metres > 0 && metres <= 500_000))
            throw new ConfigurationException("--valid-within is a number of metres above 0, at most 500000.");
        if (Directory.Exists(settings.Catalogue))
        {
            throw new ConfigurationException($"{settings.Catalogue} is a folder; name the catalogue in it, for example "
                + $"{Path.Combine(settings.Catalogue, "grids.yaml")}.");
        }
    }

    [GeneratedRegex("^[a-z][a-z0-9_]{0,59}$", RegexOptions.NonBacktracking)]
    private static partial Regex NamePattern();
}
