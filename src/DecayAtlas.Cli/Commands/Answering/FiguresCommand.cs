using System.ComponentModel;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Answering;

/// <summary>Draws the figures of the current release into a folder. They are not part of it: anyone can draw them again from it.</summary>
internal sealed class FiguresCommand(Screen screen) : PlainCommand<FiguresCommand.Settings>
{
    internal sealed class Settings : ConfigurationFileSettings
    {
        [CommandOption(WarmthOptions.Temperature)]
        [Description(WarmthOptions.TemperatureMeaning)]
        [DefaultValue(WarmthOptions.UsualTemperature)]
        public string Temperature { get; init; } = WarmthOptions.UsualTemperature;

        [CommandOption(WarmthOptions.Moisture)]
        [Description(WarmthOptions.MoistureMeaning)]
        public string? Moisture { get; init; }

        [CommandOption("--to <FOLDER>")]
        [Description("Folder for the figures; made if absent.")]
        [DefaultValue("figures")]
        public string To { get; init; } = "figures";
    }

    protected override int Execute(Settings settings)
    {
        CurrentRelease release = CurrentRelease.Of(settings.File);
        IReadOnlyDictionary<string, Chart> charts = ReleaseFigures.Of(release.Tables, release.Rates(),
            new WarmthRequest(settings.Temperature, settings.Moisture, [], FastOverSlow: release.Basis.FastOverSlow));
        List<object> listed = [];
        foreach ((string name, Chart chart) in charts)
        {
            Figure figure = chart.Draw();
            FigureFile.Save(Path.Combine(settings.To, name + ".svg"), figure);
            FigureFile.Save(Path.Combine(settings.To, name + ".png"), figure);
            listed.Add(new { name, title = chart.Title, note = chart.Note, alt = figure.AltText });
        }

        // beside the pictures, what they say to those who can't see them, and which release they show
        string list = Path.GetFullPath(Path.Combine(settings.To, "figures.json"));
        DurableFile.Guard(list, () => DurableFile.WriteText(
            list,
            System.Text.Json.JsonSerializer.Serialize(new { release = release.Id, figures = listed }, JsonText.Options) + "\n"));
        if (settings.Json)
        {
            screen.Json(new { release = release.Id, folder = Path.GetFullPath(settings.To), figures = listed });
        }
        else
        {
            screen.Line($"{charts.Count} figures of release {release.Id} are in {settings.To}, each as .svg and .png; "
                + "figures.json has their titles and descriptions.");
            screen.Lines(charts.Select(chart => $"  {chart.Key}: {chart.Value.Title}"));
        }

        return RecordedRun.Done;
    }
}
