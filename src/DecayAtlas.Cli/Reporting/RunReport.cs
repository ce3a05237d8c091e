using Output = DecayAtlas.Pipeline.Stages.TrainStage.Output;

namespace DecayAtlas.Cli.Reporting;

/// <summary>A run told to a person: what needs them first, then where the results lie.</summary>
internal static class RunReport
{
    /// <summary>Tells what was quarantined, which a person must know even where a later stage failed.</summary>
    public static void WriteQuarantined(RunRecord record, Action<string> line)
    {
        if (record.Troubles.Count > 0)
            line(Trouble.Heading(record.Troubles));
        foreach (Trouble trouble in record.Troubles)
            line($"  {trouble}.");
        if (record.RestoredSentence() is { } restored)
            line(restored + ".");
        if (record.Quarantined.Count == 0)
            return;
        line($"Quarantined in this run: {record.Quarantined.Count}. {record.WaitingSentence()}");
        foreach (QuarantinedNow one in record.Quarantined)
            line($"  {one.Line()}");
    }

    public static void Write(Screen screen, FlowResult result, RunRecord record)
    {
        WriteQuarantined(record, screen.Line);
        screen.Lines(record.ModelChanges);
        if (record.Mails is { } mails)
            screen.Line(mails.Sentence);
        screen.Lines(record.CameLate.Select(late => $"{late} came after a higher revision of it, which counts. It is kept as history; "
            + "tell the contributor, report.md in its folder of the intake says how."));
        screen.Lines(record.Shrunk.Select(shrunk => $"{shrunk}: ask the group whether the others are to count no more."));
        screen.Lines((record.PartsMended ?? []).Select(mended =>
            $"{mended}: its part had rotted and was written anew from its rows. Look after the disk, and run decayatlas verify."));
        screen.Lines(record.IdleWords.Select(idle => $"The vocabulary has {idle}, a word that nobody sent."));
        screen.Lines(record.IdleDecisions.Select(idle => $"A decision found nothing: {idle}."));

        if (record.Flags.Count > 0)
        {
            screen.Line((record.BurialsSentence() is { } burials ? burials + ". " : "") + "Flags by code:");
            screen.Table(["code", "count"], record.Flags.Select(x => new[] { x.Key, $"{x.Value}" }));
        }

        if (record.RateMissing.Count > 0)
            screen.Line($"Burials without k: {RunRecord.Counts(record.RateMissing)}.");
        if (record.ResultsSentence() is { } results)
            screen.Line(results + ".");

        if (result.Published is { Release: { } release })
        {
            screen.Line(release.IsNew
                ? $"Release {release.Release}: {RunRecord.Counts(release.RowCounts)}."
                : $"Nothing changed: release {release.Release} stands and no release was written.");
        }

        if (result.Model is { } model)
        {
            screen.Line($"Model: {Path.Combine(model.Folder, "card.md")}{Unchanged(model.IsNew)}");
            if (model.Stabilisation is { } second)
                screen.Line($"Model of S: {Path.Combine(second.Folder, "card.md")}{Unchanged(second.IsNew)}");
            if (model.StabilisationFailure is { } untrained)
                screen.Line($"There is no model of S of this release. {untrained}");
            foreach (Output one in new[] { model, model.Stabilisation }.OfType<Output>())
            {
                foreach (LeftOutCandidate left in one.Card.LeftOut)
                    screen.Line($"Left out of the choice of model{(one == model ? "" : " of S")}: {left.Title}. {left.Reason}");
            }
        }

        if (result.Map is { } map)
        {
            screen.Line($"Map: {Path.Combine(map.Folder, MapQuantity.DecayRate.PngName)} and {MapQuantity.DecayRate.TifName}"
                + Unchanged(map.IsNew));
            if (map.Stabilisation is { } ofS)
            {
                screen.Line($"Map of S: {Path.Combine(ofS.Folder, MapQuantity.Stabilisation.PngName)} and "
                    + $"{MapQuantity.Stabilisation.TifName}{Unchanged(ofS.IsNew)}");
            }

            if (map.Joint is { } joint)
                screen.Line($"k and S together: {Path.Combine(joint.Folder, JointFiles.PngName)}{Unchanged(joint.IsNew)}");
            screen.Lines(map.LeftOut);
        }

        if (result.Pages is { } pages)
            screen.Line($"Pages: {Path.Combine(pages.Folder, "index.html")}{Unchanged(pages.AreNew)}");
    }

    private static string Unchanged(bool isNew) => isNew ? "" : " (unchanged)";
}
