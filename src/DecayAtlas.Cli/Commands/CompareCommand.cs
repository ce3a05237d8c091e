using System.ComponentModel;
using System.Globalization;
using DecayAtlas.Atlas;
using DecayAtlas.Atlas.Records;
using DecayAtlas.Atlas.Releases;
using DecayAtlas.Cli.Reporting;
using DecayAtlas.Decomposition;
using DecayAtlas.Pipeline;
using DecayAtlas.Pipeline.Configuration;
using DecayAtlas.Pipeline.Runs;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands;

/// <summary>Describes the groups of a release: how many sites, their mean decay rate and its interval.</summary>
internal sealed class CompareCommand(Screen screen) : Command<CompareCommand.Settings>
{
    private static readonly string[] Groupings = ["ecosystem", "land_use", "management"];

    internal sealed class Settings : CommandSettings
    {
        [CommandArgument(0, "<FILE>")]
        [Description("Pipeline configuration (YAML).")]
        public required string File { get; init; }

        [CommandOption("--by <COLUMN>")]
        [Description("ecosystem, land_use or management.")]
        [DefaultValue("ecosystem")]
        public string By { get; init; } = "ecosystem";

        [CommandOption("--json")]
        [Description("Print the result as JSON and nothing else.")]
        public bool Json { get; init; }
    }

    /// <summary>One group. Rates are geometric means over sites (d⁻¹), with the 95 % t interval of the mean of ln k.</summary>
    private sealed record Group(string Name, int Sites, double RatePerDay, double? Lower95PerDay, double? Upper95PerDay);

    public override int Execute(CommandContext context, Settings settings, CancellationToken cancellationToken)
    {
        if (!Groupings.Contains(settings.By))
            throw new ConfigurationException($"--by is {settings.By}, expected one of {string.Join(", ", Groupings)}.");
        var release = new ReleaseReader(new AtlasFolder(ConfigurationReader.Read(settings.File).Atlas));
        Group[] groups = GroupsOf(release, settings.By);

        if (settings.Json)
        {
            screen.Json(new { release = release.ReleaseId, by = settings.By, groups, caution = Caution });
        }
        else
        {
            screen.Line($"Decay rate k (per day) by {settings.By}, release {release.ReleaseId}: geometric mean over sites and 95 % interval of that mean.");
            screen.Table([settings.By, "sites", "k", "lower", "upper"],
                [.. groups.Select(g => (IReadOnlyList<string>)[g.Name, g.Sites.ToString(CultureInfo.InvariantCulture), Rate(g.RatePerDay), Rate(g.Lower95PerDay), Rate(g.Upper95PerDay)])]);
            screen.Line(Caution);
        }

        return RecordedRun.Done;
    }

    private const string Caution =
        "This describes the sites that took part; it is no test. Groups differ in climate and soil as well, and sites were not drawn at random.";

    private static Group[] GroupsOf(ReleaseReader release, string by)
    {
        string?[] keys = release.Table("sites").Text("site_key"), names = release.Table("sites").Text(by);
        Dictionary<string, string> groupOf = Enumerable.Range(0, keys.Length).ToDictionary(i => keys[i]!, i => names[i] ?? "(not stated)", StringComparer.Ordinal);
        string?[] campaignKeys = release.Table("site_campaigns").Text("site_key");
        string?[] treatments = release.Table("site_campaigns").Text("treatment");
        double?[] lnRates = release.Table("site_campaigns").Number("ln_k_mean");
        return
        [
            .. Enumerable.Range(0, campaignKeys.Length)
                .Where(i => lnRates[i] is not null && Treatment.IsUntreated(treatments[i]))
                // a site that took part twice is still one site
                .GroupBy(i => campaignKeys[i]!, i => lnRates[i]!.Value, StringComparer.Ordinal)
                .GroupBy(site => groupOf[site.Key], site => site.Average(), StringComparer.Ordinal)
                .OrderBy(group => group.Key, StringComparer.Ordinal)
                .Select(group =>
                {
                    SampleSummary summary = SampleSummary.Of([.. group])!;
                    return new Group(group.Key, summary.Count, Math.Exp(summary.Mean),
                        summary.Lower95 is { } lower ? Math.Exp(lower) : null, summary.Upper95 is { } upper ? Math.Exp(upper) : null);
                }),
        ];
    }

    private static string Rate(double? perDay) => perDay is { } k ? k.ToString("0.0000", CultureInfo.InvariantCulture) : "-";
}
