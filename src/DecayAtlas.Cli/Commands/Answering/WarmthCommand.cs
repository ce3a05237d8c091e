using System.ComponentModel;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Answering;

/// <summary>Says how k rises or S moves with warmth, over sites and in warmed plots.</summary>
internal sealed class WarmthCommand(Screen screen) : PlainCommand<WarmthCommand.Settings>
{
    internal sealed class Settings : AskedSettings
    {
        [CommandOption(WarmthOptions.Temperature)]
        [Description(WarmthOptions.TemperatureMeaning)]
        [DefaultValue(WarmthOptions.UsualTemperature)]
        public string Temperature { get; init; } = WarmthOptions.UsualTemperature;

        [CommandOption(WarmthOptions.Moisture)]
        [Description(WarmthOptions.MoistureMeaning)]
        public string? Moisture { get; init; }

        [CommandOption("--block-degrees <DEGREES>")]
        [Description("Side of the blocks that neighbouring sites form, whose scatter is fitted; 0 for none.")]
        [DefaultValue(SiteBlocks.UsualDegrees)]
        public double BlockDegrees { get; init; } = SiteBlocks.UsualDegrees;

        [CommandOption("--warmed <TREATMENT>")]
        [Description("Treatment of warmed plots.")]
        [DefaultValue("warmed")]
        public string Warmed { get; init; } = "warmed";

        [CommandOption("--by-kelvin <K>")]
        [Description("By how much warmed plots were warmer; gives a Q10 of the pairs.")]
        public double? ByKelvin { get; init; }

        [CommandOption("--figure <PATH>")]
        [Description("Draw the response to a .svg or .png file.")]
        public string? Figure { get; init; }
    }

    protected override int Execute(Settings settings)
    {
        if (settings.ByKelvin is { } kelvin && !(kelvin > 0 && double.IsFinite(kelvin)))
        {
            throw new ConfigurationException(
                "--by-kelvin must be a number above 0: by how many kelvin warmed plots were warmer than untreated ones.");
        }

        if (settings.Figure is { } path && FigureFile.FormatOf(path) is null)
            throw new ConfigurationException($"--figure is {path}, expected a name that ends in .svg or .png.");
        if (!(settings.BlockDegrees >= 0 && settings.BlockDegrees <= 180))
            throw new ConfigurationException("--block-degrees must be a number from 0 (no blocks) to 180.");
        AskedOf of = settings.Asked;
        string[] with = settings.Covariates;
        string[] adjusted = [.. settings.Moisture is { } moisture ? (string[])[moisture] : [], .. with];
        if (adjusted.Contains(settings.Temperature) || adjusted.Distinct(StringComparer.Ordinal).Count() < adjusted.Length)
        {
            throw new ConfigurationException("--temperature, --moisture and --with name a covariate twice: what is held equal can't "
                + "change. Name each once.");
        }

        CurrentRelease release = CurrentRelease.Of(settings.File);
        WarmthRequest request = new(
            settings.Temperature, settings.Moisture, with, settings.BlockDegrees, settings.Warmed, settings.ByKelvin,
            release.Basis.FastOverSlow);
        WithAndWithoutNoted<WarmthAnswer> answer = WithAndWithoutNoted.Ask<WarmthAnswer>(
            release.Rates(), r => WarmthQuestion.Ask(r, request, of), SlopeChanges.Of, of);
        if (settings.Json)
            screen.Json(new { release = release.Id, warmth = answer.All, without_noted = answer.Without });
        else
            WarmthReport.Write(screen, release.Id, answer);
        if (settings.Figure is { } file)
        {
            if (ReleaseFigures.WarmthOf(answer.All) is not { } chart)
                screen.ErrorLine("No figure was drawn: there is no response over sites to show.");
            else
                FigureFile.Save(file, chart.Draw());
        }

        return RecordedRun.Done;
    }
}
