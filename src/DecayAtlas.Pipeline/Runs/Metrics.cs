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
        Family("decayatlas_run_exit_code", "Exit code of the last run: 0 done, 1 needs a person, 2 configuration, 3 failed.",
            [("", record.ExitCode)]);
        Family("decayatlas_run_end_timestamp_seconds", "When the last run ended (s since 1970).",
            [("", record.EndedAt.ToUnixTimeMilliseconds() / 1000.0)], "seconds");
        Family("decayatlas_run_duration_seconds", "How long the last run took (s).",
            [("", (record.EndedAt - record.StartedAt).TotalSeconds)], "seconds");
        Family("decayatlas_stage_duration_seconds", "How long each stage took (s).",
            record.Stages.Select(s => (Label("stage", s.Stage), s.Seconds)), "seconds");
        Counts("decayatlas_intake_contributions", "What became of each thing in the inbox.", "outcome", record.Intake);
        Family("decayatlas_quarantine_open", "Contributions in the quarantine that nothing has answered.",
            record.QuarantineOpen is { } open ? [("", open)] : []);
        Family("decayatlas_troubles", "Contributions, contributors and pages that failed in the last run while the others went on.",
            record.Stages.Count > 0 ? [("", record.Troubles.Count)] : []);
        Counts("decayatlas_flags", "Flags in the atlas by code.", "code", record.Flags);
        Counts("decayatlas_burials", "Burials in the atlas by use.", "use", record.BurialsByUse);
        Counts("decayatlas_results", "Means in the atlas that stand for burials, by use.", "use", record.ResultsByUse);
        Counts("decayatlas_release_rows", "Rows of the current release by table.", "table", record.ReleaseRows);
        return text.Append("# EOF\n").ToString();

        void Counts(string name, string help, string label, IReadOnlyDictionary<string, int>? counts) =>
            Family(name, help, (counts ?? new Dictionary<string, int>()).Select(x => (Label(label, x.Key), (double)x.Value)));

        void Family(string name, string help, IEnumerable<(string Labels, double Value)> samples, string? unit = null)
        {
            (string Labels, double Value)[] counted = [.. samples];
            if (counted.Length == 0)
                return;
            text.Append(InvariantCulture, $"# TYPE {name} gauge\n");
            if (unit is not null)
                text.Append(InvariantCulture, $"# UNIT {name} {unit}\n");
            text.Append(InvariantCulture, $"# HELP {name} {help}\n");
            foreach ((string labels, double value) in counted)
                text.Append(InvariantCulture, $"{name}{labels} {value:R}\n");
        }
    }

    // names of stages, outcomes, codes and tables are ours: kebab or snake case, nothing to escape
    private static string Label(string name, string value) => $"{{{name}=\"{value}\"}}";
}
