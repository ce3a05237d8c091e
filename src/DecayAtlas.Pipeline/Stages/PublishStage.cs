namespace DecayAtlas.Pipeline.Stages;

/// <summary>
/// Computed rows -> a release, unless nothing changed. A file whose rows come from the same contributors under the same keys as
/// before is the same file, and its part is used again. Each core holds the rows of one file at a time.
/// </summary>
public static class PublishStage
{
    /// <summary>The release that is current now.</summary>
    /// <param name="Mended">Files whose part had rotted and was written anew.</param>
    public sealed record Output(ReleaseOutcome Release, int PartsWritten, int PartsUsedAgain, IReadOnlyList<string> Mended) : IStageOutput
    {
        public string Sentence => Release.IsNew
            ? $"release {Release.Release}: {PartsWritten} parts written, {PartsUsedAgain} used "
            + $"again{(Mended.Count == 0 ? "" : $", {Mended.Count} of them mended")}"
            : $"nothing changed: release {Release.Release} stands, no release was written";
    }

    /// <summary>The file of a release that holds decisions about what is withdrawn and gone, beside those of the contributors.</summary>
    private const string DecisionsOfGone = "decisions/decisions-of-gone.parquet";

    public static Output Run(
        PipelineConfiguration configuration, ComputeStage compute, ComputeStage.Output computed, CrossCheckStage.Output crossChecked,
        Action<string, int, int>? progress)
    {
        compute.RequireNothingLost(computed);   // before anything is written or remembered
        AtlasFolder atlas = new(configuration.Atlas);
        PartWriter writer = new(atlas);
        IReadOnlyList<PartPlan> plans = PlansOf(computed);
        Dictionary<string, ReleaseFile?> known =
            plans.ToDictionary(p => p.Key, p => computed.Done.Parts.GetValueOrDefault(p.Key), StringComparer.Ordinal);
        PartPlan[] toWrite = [.. plans.Where(p => known[p.Key] is not { } part || !writer.Has(part))];

        int done = 0;
        ReleaseFile[] written = new ReleaseFile[toWrite.Length];
        Parallel.For(0, toWrite.Length, i =>
        {
            written[i] = writer.Write(toWrite[i].File, [.. toWrite[i].Contributors.Select(c => compute.Kept.RowsOf(c, toWrite[i].File))]);
            progress?.Invoke(toWrite[i].File, Interlocked.Increment(ref done), toWrite.Length);
        });
        for (int i = 0; i < toWrite.Length; i++)
            known[toWrite[i].Key] = written[i];

        List<ReleaseFile> files = [.. plans.Select(p => known[p.Key]!)];
        AnswerPart[] answers = AnswersOf(files, writer, computed.Done);
        files.AddRange(answers.Select(a => a.File));
        ReleaseFile? across = crossChecked.Flags is { } flags ? (flags.Count == 0 ? null : WriteAcross(flags)) : crossChecked.Result.File;
        if (across is not null)
            files.Add(across);
        ReleaseFile? ofGone = compute.DecisionsOfGone.Count == 0 ? null : WriteOfGone();
        if (ofGone is not null)
            files.Add(ofGone);
        files.AddRange(AtlasTables.All.Where(t => files.All(f => f.Table != t.Name)).Select(writer.WriteEmpty).ToArray());
        string exportKey = InputDigest.Of(["sites.geojson", .. files.Where(IsSites).Select(f => f.Sha256)]);
        ReleaseFile export = computed.Done.Parts.GetValueOrDefault(exportKey) is { } sameExport && writer.Has(sameExport)
            ? sameExport
            : writer.WriteGeoJson(files.Where(IsSites));
        files.Add(export);

        SortedDictionary<string, ReleaseFile> parts = new(StringComparer.Ordinal) { [exportKey] = export };
        foreach (AnswerPart answer in answers)
            parts[answer.Key] = answer.File;
        foreach (PartPlan plan in plans)
            parts[plan.Key] = known[plan.Key]!;
        writer.Flush();
        compute.Remember(computed.Done with { Parts = parts, CrossCheck = crossChecked.Result with { File = across } });

        List<string> mended = new();
        ReleaseOutcome outcome = new ReleaseWriter(atlas).Publish(files, StatementOf(configuration, computed), Remake);
        return new Output(outcome, toWrite.Length, plans.Count - toWrite.Length, mended);

        ReleaseFile WriteAcross(IReadOnlyList<Flag> found) =>
            writer.WriteBeside(AtlasTables.Flags, CrossCheckStage.FileName, [.. found.Select(ReleasedFlag.Of)]);

        ReleaseFile WriteOfGone() =>
            writer.WriteBeside(AtlasTables.Decisions, DecisionsOfGone, [.. compute.DecisionsOfGone.Select(ReleasedDecision.Of)]);

        void Remake(ReleaseFile file)
        {
            if (plans.FirstOrDefault(p => p.File == file.Path) is { } plan)
                writer.Write(plan.File, [.. plan.Contributors.Select(c => compute.Kept.RowsOf(c, plan.File))]);
            else if (file == export)
                writer.WriteGeoJson(files.Where(IsSites));
            else if (file == across)
                WriteAcross(CrossCheckStage.Find(configuration, compute, computed).Flags!);
            else if (file == ofGone)
                WriteOfGone();
            else if (answers.Any(a => a.File == file))
                AnswersOf(files, writer, computed.Done with { Parts = new() });
            else
                writer.WriteEmpty(AtlasTables.All.Single(t => t.Name == file.Table));
            writer.Flush();
            mended.Add(file.Path);
        }
    }

    /// <summary>One file of a release and the contributors whose rows it holds, in order.</summary>
    private sealed record PartPlan(string File, string Key, IReadOnlyList<PlannedContributor> Contributors, int Rows);

    private static IReadOnlyList<PartPlan> PlansOf(ComputeStage.Output computed) =>
    [
        .. computed.Contributors
            .SelectMany(c =>
                computed.Done.Contributors[c.Group.ContributorId].RowsByFile.Select(f => (File: f.Key, Rows: f.Value, Contributor: c)))
            .GroupBy(x => x.File, StringComparer.Ordinal)
            .Select(g =>
                new PartPlan(g.Key, InputDigest.Of([g.Key, .. g.Select(x => x.Contributor.Key)]), [.. g.Select(x => x.Contributor)],
                    g.Sum(x => x.Rows)))
            .OrderBy(p => p.File, StringComparer.Ordinal),
    ];

    /// <summary>One table of answers with the key it was made under.</summary>
    private sealed record AnswerPart(string Key, ReleaseFile File);

    /// <summary>The answers over all contributors: made anew only where a file that they are made from changed.</summary>
    private static AnswerPart[] AnswersOf(IReadOnlyList<ReleaseFile> files, PartWriter writer, WorkDone before)
    {
        Table[] sources = [AtlasTables.Sites, AtlasTables.Plots, AtlasTables.Curves];
        ReleaseFile[] read = [.. files.Where(f => sources.Any(s => s.Name == f.Table)).OrderBy(f => f.Path, StringComparer.Ordinal)];
        string KeyOf(Table table) => InputDigest.Of(["answers", SharedInputs.CodeIdentity, table.Name, .. read.Select(f => f.Sha256)]);
        Table[] tables = [AtlasTables.Variance, AtlasTables.Comparisons, AtlasTables.Agreement];
        AnswerPart?[] known = [
            .. tables.Select(
                t => before.Parts.GetValueOrDefault(KeyOf(t)) is { } file && writer.Has(file) ? new AnswerPart(KeyOf(t), file) : null)];
        if (known.All(k => k is not null))
            return known!;
        ReleaseAnswers answers = ReleaseAnswers.Of(writer.RowsOf(read));
        return
        [
            new(KeyOf(AtlasTables.Variance), writer.WriteWhole(AtlasTables.Variance, answers.Variance)),
            new(KeyOf(AtlasTables.Comparisons), writer.WriteWhole(AtlasTables.Comparisons, answers.Comparisons)),
            new(KeyOf(AtlasTables.Agreement), writer.WriteWhole(AtlasTables.Agreement, answers.Agreement)),
        ];
    }

    private static bool IsSites(ReleaseFile file) => file.Table == AtlasTables.Sites.Name;

    private static ReleaseStatement StatementOf(PipelineConfiguration configuration, ComputeStage.Output computed) => new(
        configuration.Title,
        configuration.Publisher,
        SharedInputs.SettingsOf(configuration),
        SharedInputs.CodeVersion,
        [.. computed.Done.Contributors.Values.SelectMany(e => e.Licences).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)]);
}
