namespace DecayAtlas.Pipeline.Runs;

/// <summary>A run in few lines, fit for a mail: what needs a person first.</summary>
public static class NightSummary
{
    public const string FileName = "latest-summary.txt";

    private const int MostLines = 20;

    public static string Of(RunRecord record)
    {
        List<string> sentences = new()
        {
            string.Create(InvariantCulture, $"Run of {record.StartedAt.UtcDateTime:yyyy-MM-dd HH:mm} UTC, "
                + $"{(record.EndedAt - record.StartedAt).TotalSeconds:0.#} s, exit code {record.ExitCode}."),
        };
        if (record.Failure is { } failure)
        {
            sentences.Add($"{(record.Stages.Count == 0 ? "It did nothing" : "It failed")}: {failure.TrimEnd('.')}. "
                + record.StandsSentence());
        }

        if (record.Quarantined.Count > 0)
        {
            // first what a person must look after
            sentences.Add($"Quarantined in this run: {record.Quarantined.Count}. {record.WaitingSentence()}\n"
                + string.Concat(record.Quarantined.OrderBy(q => q.CameAgain).Take(MostLines).Select(q => $"- {q.Line()}\n"))
                + (record.Quarantined.Count > MostLines ? "- and more\n" : ""));
        }

        if (record.Mails is { } mails)
            sentences.Add(mails.Sentence);
        sentences.AddRange(record.ModelChanges.Select(change => $"{change}"));

        if (record.Troubles.Count > 0)
            sentences.Add($"{Trouble.Heading(record.Troubles)} {First(record.Troubles)}.");
        if (record.RestoredSentence() is { } restored)
            sentences.Add(restored + ".");
        if (record.CameLate.Count > 0)
        {
            sentences.Add($"Came after a higher revision of the same contribution, and is kept as history only: "
                + $"{string.Join("; ", record.CameLate)}. Tell the contributor; the words are in report.md in its folder of the intake.");
        }

        if (record.Shrunk.Count > 0)
        {
            sentences.Add($"Revisions with less than half of what they replace: {string.Join("; ", record.Shrunk)}. Ask the group whether "
                + "the others are to count no more; else they send a higher revision with all rows.");
        }

        if (record.PartsMended is { Count: > 0 } mended)
            sentences.Add($"Parts had rotted and were written anew from their rows: {First(mended)}. Look after the disk, and run verify.");
        if (record.StabilisationFailure is { } untrained)
            sentences.Add($"There is no model of S of this release: {untrained.TrimEnd('.')}.");
        if (record.QuarantineOpen > 0)
            sentences.Add($"Waiting in the quarantine in all: {record.QuarantineOpen}.");
        if (record.Intake.Count > 0)
            sentences.Add($"Inbox: {RunRecord.Counts(record.Intake)}.");
        if (record.BurialsSentence() is { } burials)
            sentences.Add(burials + ".");
        if (record.ResultsSentence() is { } results)
            sentences.Add(results + ".");
        if (record.IdleDecisions.Count > 0)
            sentences.Add($"Decisions that found nothing: {string.Join("; ", record.IdleDecisions)}. Mend them, or take them out.");
        if (record.IdleWords.Count > 0)
            sentences.Add($"Entries of the vocabulary for words that nobody sent: {string.Join("; ", record.IdleWords)}.");
        if (record.ReleaseId is { } release)
            sentences.Add(record.ReleaseIsNew == true ? $"New release {release}." : $"Nothing changed; release {release} stands.");
        if (record.ModelIsNew == true)
            sentences.Add("A new model was trained.");
        if (record.MapIsNew == true)
            sentences.Add("A new map was drawn.");
        sentences.AddRange(record.MapsLeftOut ?? []);
        return string.Join(' ', sentences).Replace("\n ", "\n", StringComparison.Ordinal).TrimEnd('\n');

        static string First<T>(IEnumerable<T> all) => string.Join("; ", all.Take(5)) + (all.Skip(5).Any() ? "; and more" : "");
    }
}
