using System.ComponentModel;
using System.Text;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Predicting;

/// <summary>Predicts k or S for the rows of a CSV table: places, or covariates.</summary>
internal sealed class PredictCommand(Screen screen) : PlainCommand<PredictCommand.Settings>
{
    internal sealed class Settings : CommandSettings
    {
        [CommandArgument(0, "<FILE>")]
        [Description("Pipeline configuration (YAML).")]
        public required string File { get; init; }

        [CommandOption("--points <CSV>")]
        [Description(
            "A table with decimal_latitude and decimal_longitude (WGS 84); buried_on, retrieved_on, depth_cm and "
            + "coordinate_uncertainty_m where it has them.")]
        public string? Points { get; init; }

        [CommandOption("--rows <CSV>")]
        [Description("A table with a column for each covariate of the model, by its name and in its unit.")]
        public string? Rows { get; init; }

        [CommandOption("--of <QUANTITY>")]
        [Description("k, the decay rate, or s, the stabilisation factor.")]
        [DefaultValue("k")]
        public string Of { get; init; } = "k";

        [CommandOption("--model <ID>")]
        [Description("A model of the atlas; the current one unless stated.")]
        public string? Model { get; init; }

        [CommandOption("--as-if <NAME=CLASS>")]
        [Description("Take rows that state no class of their own for this one, as management=organic; may be given several times. "
            + "That of map.as_if unless stated.")]
        public string[] AsIf { get; init; } = [];

        [CommandOption("--output <CSV>")]
        [Description("Where the table is written; standard output unless stated.")]
        public string? Output { get; init; }
    }

    protected override int Execute(Settings settings)
    {
        if (settings.Points is null == settings.Rows is null)
            throw new ConfigurationException("predict takes either --points or --rows, and exactly one of them.");
        PipelineConfiguration configuration = ConfigurationReader.Read(settings.File);
        using RateModel model =
            CurrentModel.Load(new AtlasFolder(configuration.Atlas), AskedOfNames.Parse(settings.Of).Quantity(), settings.Model);
        string input = settings.Points ?? settings.Rows!;
        ClassChoices choices = configuration.Choices.Over(ChosenClasses.Of("--as-if", settings.AsIf), model);
        PredictionTable table = settings.Points is null
            ? PredictionTable.OfCovariates(model, choices)
            : PredictionTable.OfPlaces(model, CatalogueFile.Read(configuration.GridsToPredictFrom, configuration.Remote),
                configuration.Conditions, choices);
        PredictionTableResult result;
        if (settings.Output is not { } output)
        {
            result = table.Run(input, screen.Output);
        }
        else
        {
            if (Path.GetFullPath(output) == Path.GetFullPath(input))
                throw new ConfigurationException($"--output {output} is the table that is read; name another file.");
            PredictionTableResult? written = null;
            DurableFile.Write(output, stream =>
            {
                using StreamWriter writer = new(stream, new UTF8Encoding(false), leaveOpen: true) { NewLine = "\n" };
                written = table.Run(input, writer);
            });
            result = written!;
        }

        screen.ErrorLine($"predict: {result.Predicted} of {result.Rows} rows predicted, {result.Applicable} of these applicable; model "
            + $"{model.Card.ModelId}");
        if (choices.SentenceFor(model.Card) is { } chosen)
            screen.ErrorLine($"predict: {chosen} wherever a row states no class of its own");
        screen.ErrorLine($"predict: {model.Card.NotedSentence()}");
        return RecordedRun.Done;
    }
}
