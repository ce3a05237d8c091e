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

    internal static Output Run(
        PipelineConfiguration configuration, ComputeStage compute, ComputeStage.Output computed, CrossCheckStage.Output crossChecked,
        Action<string, int, int>? progress)
    {
        compute.RequireNothingLost(computed);   // before anything is written or remembered
        AtlasFolder atlas = new(configuration.Atlas);
        PartWriter writer = new(atlas);
        IReadOnlyList<PartPlan> plans = PlansOf(computed);
        SortedDictionary<string, ReleaseFile> parts = new(StringComparer.Ordinal);
        List<PartPlan> toWrite = [];
        foreach (PartPlan plan in plans)
        {
            if (Known(plan.Key) is { } part)
                parts[plan.Key] = part;
            else
                toWrite.Add(plan);
        }

        int done = 0;
        ReleaseFile[] written = new ReleaseFile[toWrite.Count];
        Parallel.For(0, written.Length, i =>
        {
            written[i] = WritePart(toWrite[i]);
            progress?.Invoke(toWrite[i].File, Interlocked.Increment(ref done), written.Length);
        });
        for (int i = 0; i < written.Length; i++)
            parts[toWrite[i].Key] = written[i];

        IReadOnlyList<ReleaseFile> across = crossChecked.Found is { } found ? WriteAcross(found) : crossChecked.Result.Files;
        List<ReleaseFile> files = [.. plans.Select(p => parts[p.Key]), .. across];
        Dictionary<string, ReleaseFile> answers = AnswersOf(files, writer, Known, configuration);
        foreach ((string key, ReleaseFile answer) in answers)
        {
            parts[key] = answer;
            files.Add(answer);
        }

        ReleaseFile? ofGone = compute.DecisionsOfGone.Count == 0 ? null : WriteOfGone();
        if (ofGone is not null)
            files.Add(ofGone);
        string wordsKey = InputDigest.Of([AtlasTables.Words.Name, SharedInputs.CodeIdentity]);
        ReleaseFile words = parts[wordsKey] = Known(wordsKey) ?? WriteWords();
        files.Add(words);
        files.AddRange(AtlasTables.All.Where(t => files.All(f => f.Table != t.Name)).Select(writer.WriteEmpty).ToArray());
        ReleaseFile[] sites =
            [.. files.Where(f => f.Table == AtlasTables.Sites.Name || f.Table == AtlasTables.SiteCampaigns.Name)];
        string exportKey = InputDigest.Of(["sites.geojson", SharedInputs.CodeIdentity, .. sites.Select(f => f.Sha256)]);
        ReleaseFile export = parts[exportKey] = Known(exportKey) ?? writer.WriteGeoJson(sites);
        files.Add(export);
        writer.Flush();
        compute.Remember(computed.Done with { Parts = parts, CrossCheck = crossChecked.Result with { Files = across } });

        List<string> mended = new();
        ReleaseOutcome outcome = new ReleaseWriter(atlas).Publish(files, StatementOf(configuration, computed), Remake);
        return new Output(outcome, toWrite.Count, plans.Count - toWrite.Count, mended);

        ReleaseFile? Known(string key) => computed.Done.Parts.GetValueOrDefault(key) is { } part && writer.Has(part) ? part : null;

        ReleaseFile WritePart(PartPlan plan) =>
            writer.Write(plan.File, [.. plan.Contributors.Select(c => compute.Kept.RowsOf(c, plan.File))]);

        IReadOnlyList<ReleaseFile> WriteAcross(CrossCheckStage.Rows found) =>
        [
            .. found.Flags.Count == 0 ? Array.Empty<ReleaseFile>()
                : [writer.Write(AtlasTables.Flags, [.. found.Flags.Select(ReleasedFlag.Of)], CrossCheckStage.FileName)],
            writer.Write(AtlasTables.Noted, found.Noted.Burials), writer.Write(AtlasTables.NotedSiteCampaigns, found.Noted.SiteCampaigns),
        ];

        ReleaseFile WriteWords() => writer.Write(AtlasTables.Words, ReleasedWord.All);

        ReleaseFile WriteOfGone() =>
            writer.Write(AtlasTables.Decisions, [.. compute.DecisionsOfGone.Select(ReleasedDecision.Of)], DecisionsOfGone);

        void Remake(ReleaseFile file)
        {
            if (plans.FirstOrDefault(p => p.File == file.Path) is { } plan)
                WritePart(plan);
            else if (file == export)
                writer.WriteGeoJson(sites);
            else if (file == words)
                WriteWords();
            else if (across.Contains(file))
                WriteAcross(CrossCheckStage.Find(configuration, compute, computed).Found!);
            else if (file == ofGone)
                WriteOfGone();
            else if (answers.ContainsValue(file))
                AnswersOf(files, writer, _ => null, configuration);
            else
                writer.WriteEmpty(AtlasTables.All.Single(t => t.Name == file.Table));
            writer.Flush();
            mended.Add(file.Path);
        }
    }

    /// <summary>One file of a release and the contributors whose rows it holds, in order.</summary>
    private sealed record PartPlan(string File, string Key, IReadOnlyList<PlannedContributor> Contributors);

    private static IReadOnlyList<PartPlan> PlansOf(ComputeStage.Output computed) =>
    [
        .. computed.Contributors
            .SelectMany(c => computed.Done.Contributors[c.ContributorId].Files.Select(file => (File: file, Contributor: c)))
            .GroupBy(x => x.File, x => x.Contributor, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal)
            .Select(g => new PartPlan(g.Key, InputDigest.Of([g.Key, .. g.Select(c => c.Key)]), [.. g])),
    ];

    /// <summary>The answers over all contributors, by the key they were made under: made anew only where a file that they are made from
    /// changed.</summary>
    private static Dictionary<string, ReleaseFile> AnswersOf(
        IReadOnlyList<ReleaseFile> files, PartWriter writer, Func<string, ReleaseFile?> known, PipelineConfiguration configuration)
    {
        ReleaseFile[] read = FilesOf(AtlasTables.Sites, AtlasTables.SiteCampaigns, AtlasTables.Plots, AtlasTables.SharedErrors,
            AtlasTables.Curves, AtlasTables.Noted, AtlasTables.Covariates, AtlasTables.CampaignCovariates);
        SensitivityBasis basis = SensitivitySettings.Of(configuration);
        Table[] tables = [AtlasTables.Variance, AtlasTables.Groups, AtlasTables.Comparisons, AtlasTables.Agreement,
            AtlasTables.Calibration, AtlasTables.NotedAnswers, AtlasTables.SiteValues, AtlasTables.Warmth, AtlasTables.Trend];
        string[] keys = [.. tables.Select(KeyOf)];
        ReleaseFile?[] before = [.. keys.Select(known)];
        ReleaseFile?[] made = before;
        KeyValuePair<string, ReleaseFile> sensitivity = default;
        Parallel.Invoke(() => sensitivity = SensitivityOf(), () => made = before.All(f => f is not null) ? before : Made());
        return keys.Zip(made, (key, file) => KeyValuePair.Create(key, file!)).Append(sensitivity).ToDictionary();

        ReleaseFile[] Made()
        {
            ReleaseAnswers answers = ReleaseAnswers.Of(writer.RowsOf(read), configuration.Answers.Evidence, basis.Warmth);
            return
            [
                writer.Write(AtlasTables.Variance, answers.Variance), writer.Write(AtlasTables.Groups, answers.Groups),
                writer.Write(AtlasTables.Comparisons, answers.Comparisons), writer.Write(AtlasTables.Agreement, answers.Agreement),
                writer.Write(AtlasTables.Calibration, answers.Calibration), writer.Write(AtlasTables.NotedAnswers, answers.Noted),
                writer.Write(AtlasTables.SiteValues, answers.SiteValues), writer.Write(AtlasTables.Warmth, answers.Warmth),
                writer.Write(AtlasTables.Trend, answers.Trend),
            ];
        }

        // asks for every bag, and is kept apart so that it is not asked again where only a curve changed
        KeyValuePair<string, ReleaseFile> SensitivityOf()
        {
            ReleaseFile[] weighed = FilesOf(AtlasTables.Sites, AtlasTables.Lots, AtlasTables.Bags, AtlasTables.Burials, AtlasTables.Plots,
                AtlasTables.SharedErrors, AtlasTables.Noted, AtlasTables.Covariates, AtlasTables.CampaignCovariates);
            string key = InputDigest.Of(["sensitivity", SharedInputs.CodeIdentity, SensitivitySettings.DigestOf(basis),
                .. weighed.Select(f => f.Sha256)]);
            return new(key, known(key)
                ?? writer.Write(AtlasTables.Sensitivity, SensitivityQuestion.Ask(writer.RowsOf(weighed), basis).Rows));
        }

        ReleaseFile[] FilesOf(params Table[] tables) =>
            [.. files.Where(f => tables.Any(t => t.Name == f.Table)).OrderBy(f => f.Path, StringComparer.Ordinal)];

        string KeyOf(Table table) => InputDigest.Of(
            ["answers", SharedInputs.CodeIdentity, table.Name, .. configuration.Answers.Evidence.Kinds,
                SensitivitySettings.DigestOf(basis), .. read.Select(f => f.Sha256)]);
    }

    private static ReleaseStatement StatementOf(PipelineConfiguration configuration, ComputeStage.Output computed) => new(
        configuration.Title,
        configuration.Publisher,
        SharedInputs.SettingsOf(configuration),
        SharedInputs.CodeVersion,
        [.. computed.Done.Contributors.Values.SelectMany(e => e.Licences).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)],
        configuration.Citation);
}
