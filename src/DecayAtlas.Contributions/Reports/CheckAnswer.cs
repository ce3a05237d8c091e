using System.Text.Json;

namespace DecayAtlas.Contributions.Reports;

/// <summary>The result of a check for programs: what the command prints and the page in the browser hold, letter by letter the
/// same.</summary>
public static class CheckAnswer
{
    /// <param name="path">As the contribution was named by who asked.</param>
    public static string Json(string path, CheckReport check) => JsonSerializer.Serialize(new
    {
        path,
        valid = check.IsValid,
        ready = check.IsReady,
        format = check.Result.Format,
        content_hash = check.Result.ContentHash,
        summary = check.Summary,
        plausibility = check.Plausibility,
        burials = check.Burials,
        findings = check.Result.Findings,
        warnings = check.Result.Warnings,
    }, JsonText.Options);
}
