using System.Text.Json;

namespace DecayAtlas.Contributions.Reports;

/// <summary>What a sender looks at after a check: what <see cref="CheckTelling"/> tells, with the cells it is about, the places and the
/// results as numbers; made to be shown.</summary>
public static class CheckView
{
    /// <param name="path">As for <see cref="ContributionReader.Read"/>; so the mapping.</param>
    public static string Json(string path, string? mappingPath, IntakeLimits limits, CheckReport check, Phrases words)
    {
        ReadResult result = check.Result;
        CheckTelling telling = CheckTelling.Of(check, words);
        Finding[] findings = [.. result.Findings, .. result.Warnings];
        return JsonSerializer.Serialize(new
        {
            source = check.Source,
            valid = check.IsValid,
            ready = check.IsReady,
            contribution_id = result.Contribution?.Header.ContributionId,
            revision = result.Contribution?.Header.Revision,
            // a kit is sent as it is, and says on a sheet of its own which version it is
            about = result.Format == ContributionFormat.Kit ? words["kit.sheet." + KitForm.About] : null,
            codes = findings.Select(finding => finding.Code).Distinct(),
            first = telling.First,
            then = telling.Then,
            to_confirm = check.ToConfirm.Count,
            gate = telling.Gate,
            mend = Groups(telling.Mend, result.Findings, 0),
            look = Groups(telling.Look, result.Warnings, result.Findings.Count),
            facts = telling.Facts.Select(fact => new { fact.What, fact.Value }),
            sheets = MarkedSheet.Of(findings.Length == 0 ? [] : SentSheets.Of(path, mappingPath, limits), findings, words),
            seen = result.SoundRows is { } tables ? SeenBurials.Of(tables, check.Burials) : null,
        }, JsonText.Options);
    }

    /// <summary>The rows of a table of findings, each with the findings it is about.</summary>
    /// <param name="before">Findings that stand before these.</param>
    private static IEnumerable<object> Groups(TellingTable? table, IReadOnlyList<Finding> findings, int before)
    {
        Dictionary<Finding, int> places = new(ReferenceEqualityComparer.Instance);
        foreach ((int i, Finding finding) in findings.Index())
            places[finding] = before + i;
        return FindingGroup.Of(findings).Zip(table?.Rows ?? [], (group, row) => (object)new
        {
            where = row[0],
            found = row[1],
            expected = row[2],
            mend = row[3],
            findings = group.All.Select(finding => places[finding]),
            // what was read is nothing that was expected
            read = group.First.Code is FindingCode.KitTyped or FindingCode.ThousandsRead ? true : (bool?)null,
        });
    }
}
