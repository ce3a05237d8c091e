using System.Globalization;
using System.Text;

namespace DecayAtlas.Pipeline.Runs;

/// <summary>
/// A run record as OpenMetrics text, for a collector that reads files. Source: OpenMetrics 1.0 (openmetrics.io), text format: a
/// TYPE and HELP line a family, UTF-8, <c># EOF</c> at the end.
/// </summary>
public static class Metrics
{
    public const string FileName = "latest.openmetrics";

    public static string Of(RunRecord record)
    {
        StringBuilder text = new();
        // what the run did not count is left out, since 0 would be a count
        Family("decayatlas_run_exit_code", "gauge", "Exit code of the last run: 0 done, 1 needs a person, 2 configuration, 3 failed.",
            null, [("", record.ExitCode)]);
        Family("decayatlas_run_end_timestamp_seconds", "gauge", "When the last run ended (s since 1970).",
            "seconds", [("", record.EndedAt.ToUnixTimeMilliseconds() / 1000.0)]);
        Family("decayatlas_run_duration_seconds", "gauge", "How long the last run took (s).",
            "seconds", [("", (record.EndedAt - record.StartedAt).TotalSeconds)]);
        Family("decayatlas_stage_duration_seconds", "gauge", "How long each stage took (s).", "seconds",
            record.Stages.Select(s => (Label("stage", s.Stage), s.Seconds)));
        Family("decayatlas_intake_contributions", "gauge", "What became of each thing in the inbox.", null,
            record.Intake.Select(x => (Label("outcome", x.Key), (double)x.Value)));
        Family("decayatlas_quarantine_open", "gauge", "Contributions in the quarantine that nothing has answered.", null,
            record.QuarantineOpen is { } open ? [("", open)] : []);
        Family("decayatlas_troubles", "gauge",
            "Contributions, contributors and pages that failed in the last run while the others went on.", null,
            record.Stages.Count > 0 ? [("", record.Troubles.Count)] : []);
        Family("decayatlas_flags", "gauge", "Flags in the atlas by code.", null,
            record.Flags.Select(x => (Label("code", x.Key), (double)x.Value)));
        Family("decayatlas_burials", "gauge", "Burials in the atlas by use.", null,
            record.BurialsByUse.Select(x => (Label("use", x.Key), (double)x.Value)));
        Family("decayatlas_release_rows", "gauge", "Rows of the current release by table.",
            null, (record.ReleaseRows ?? new Dictionary<string, int>()).Select(x => (Label("table", x.Key), (double)x.Value)));
        return text.Append("# EOF\n").ToString();

        void Family(string name, string type, string help, string? unit, IEnumerable<(string Labels, double Value)> samples)
        {
            (string Labels, double Value)[] counted = [.. samples];
            if (counted.Length == 0)
                return;
            text.Append(CultureInfo.InvariantCulture, $"# TYPE {name} {type}\n");
            if (unit is not null)
                text.Append(CultureInfo.InvariantCulture, $"# UNIT {name} {unit}\n");
            text.Append(CultureInfo.InvariantCulture, $"# HELP {name} {help}\n");
            foreach ((string labels, double value) in counted)
                text.Append(CultureInfo.InvariantCulture, $"{name}{labels} {value:R}\n");
        }
    }

    // names of stages, outcomes, codes and tables are ours: kebab or snake case, nothing to escape
    private static string Label(string name, string value) => $"{{{name}=\"{value}\"}}";
}
