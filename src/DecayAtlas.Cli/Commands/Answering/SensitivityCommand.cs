using System.ComponentModel;
using System.Globalization;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Answering;

/// <summary>Says what k, S and the answers of a release would be if something were otherwise than assumed.</summary>
internal sealed class SensitivityCommand(Screen screen) : PlainCommand<SensitivityCommand.Settings>
{
    internal sealed class Settings : ConfigurationFileSettings
    {
        [CommandOption("--h-fast <H>")]
        [Description("Suppose this hydrolysable fraction of every fast lot: all that is not acid-insoluble, as a share of the dry litter.")]
        public double? HydrolysableFast { get; init; }

        [CommandOption("--h-slow <H>")]
        [Description("The same of every slow lot.")]
        public double? HydrolysableSlow { get; init; }

        [CommandOption("--water <SHARE>")]
        [Description("Suppose this share of water at the first weighing wherever nothing was said of it.")]
        public double? Water { get; init; }

        [CommandOption("--days <FROM..TO>")]
        [Description("Suppose that exposures of so many days counted, for example 70..110.")]
        public string? Days { get; init; }

        [CommandOption("--fast-over-slow <RATIO>")]
        [Description("Correct k and S for a fast litter that decays so many times as fast as the slow one and may not have reached its "
            + "plateau.")]
        public double? FastOverSlow { get; init; }

        [CommandOption("--all")]
        [Description("Say each finding in a sentence, also what would stay.")]
        public bool All { get; init; }

        internal OwnSupposition Own => new(HydrolysableFast, HydrolysableSlow, Water, Window, FastOverSlow);

        private (int, int)? Window => Days is null ? null
            : Days.Split("..") is [string from, string to]
                && int.TryParse(from, NumberStyles.None, CultureInfo.InvariantCulture, out int shortest)
                && int.TryParse(to, NumberStyles.None, CultureInfo.InvariantCulture, out int longest) && shortest <= longest
                ? (shortest, longest)
                : throw new ConfigurationException($"--days is {Days}, "
                    + (Days.Contains("..", StringComparison.Ordinal) ? "expected" : "which lacks a number: expected")
                    + " two whole numbers, the smaller first, as 70..110.");
    }

    protected override int Execute(Settings settings)
    {
        Check("--h-fast", settings.HydrolysableFast, h => h is > 0 and <= 1, "a share above 0 and at most 1, for example 0.80");
        Check("--h-slow", settings.HydrolysableSlow, h => h is > 0 and <= 1, "a share above 0 and at most 1, for example 0.55");
        Check("--water", settings.Water, w => w is >= 0 and < 1, "a share from 0 to below 1, for example 0.06");
        Check("--fast-over-slow", settings.FastOverSlow, r => r is > 1 and <= 1000, "a number above 1 and at most 1000, for example 6");
        OwnSupposition own = settings.Own;
        CurrentRelease release = CurrentRelease.Of(settings.File);
        SensitivityAnswer answer = own == new OwnSupposition(null, null, null, null, null)
            ? SensitivityQuestion.Ask(release.Tables, release.Basis) : SensitivityQuestion.Ask(release.Tables, release.Basis, own);
        if (answer.Burials == 0 && !settings.Json)
        {
            screen.Line(
                $"Suppositions are tried on weighings alone, and no burial of release {release.Id} counts that was weighed.");
            return RecordedRun.Done;
        }

        if (settings.Json)
            screen.Json(new { release = release.Id, sensitivity = answer });
        else
            SensitivityReport.Write(screen, release.Id, answer, settings.All);
        return RecordedRun.Done;
    }

    private static void Check(string option, double? value, Func<double, bool> isSensible, string expected)
    {
        if (value is { } number && !isSensible(number))
            throw new ConfigurationException(FormattableString.Invariant($"{option} is {number}, expected {expected}."));
    }
}
