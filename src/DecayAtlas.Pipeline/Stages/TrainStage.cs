namespace DecayAtlas.Pipeline.Stages;

/// <summary>The current release -> a model of ln k and its card.</summary>
public static class TrainStage
{
    /// <summary>Where the model of k lies, and whether it was trained now; then the same of S, where one is asked for.</summary>
    public sealed record Output(string Folder, bool IsNew, ModelCard Card) : IStageOutput
    {
        public Output? Stabilisation { get; init; }

        /// <summary>The card of the model that was current before, where it was another that can still be read.</summary>
        public ModelCard? Before { get; init; }

        /// <summary>Why there is no model of S of this release where one is asked for; that of k stands all the same.</summary>
        public string? StabilisationFailure { get; init; }

        public string Sentence => $"{(IsNew ? "trained" : "unchanged, not trained again")}: {Card.Winner}, model "
            + $"{Card.ModelId}{(Card.IsSupported ? "" : "; no learned model is supported, see the card")}";
    }

    public static Output Run(AtlasFolder atlas, TrainSection section, IReadOnlyList<CatalogueEntry> catalogue,
        Action<string, int, int>? progress)
    {
        // A target that cannot be trained does not keep the other from it. Without a model of k the stage has failed, but not before S was
        // tried.
        (Output? rate, PredictionException? rateFailure) = Try(PredictionTarget.DecayRate, MapQuantity.DecayRate.Link);
        (Output? stabilisation, PredictionException? stabilisationFailure) =
            section.Targets.Contains(PredictionTarget.Stabilisation) ? Try(PredictionTarget.Stabilisation, MapQuantity.Stabilisation.Link)
            : (null, null);
        return rate is not null
            ? rate with { Stabilisation = stabilisation, StabilisationFailure = stabilisationFailure?.Message }
            : throw (stabilisationFailure is null || stabilisationFailure.Message == rateFailure!.Message
                ? rateFailure! : new PredictionException($"{rateFailure.Message} Of S: {stabilisationFailure.Message}", rateFailure));

        (Output? Made, PredictionException? Failure) Try(PredictionTarget target, string link)
        {
            try
            {
                return (Train(target, link), null);
            }
            catch (PredictionException e)
            {
                return (null, e);
            }
        }

        Output Train(PredictionTarget target, string link)
        {
            TrainingSet set = TrainingSetOf(new ReleaseReader(atlas), section, catalogue, target);
            ModelCard? before = CardOf(MadeFolder.CurrentIdOf(atlas.Models, link));
            (string path, bool isNew) = MadeFolder.Ensure(atlas.Models, ModelTrainer.IdOf(set, section.Options), folder =>
            {
                using RateModel trained = ModelTrainer.Train(set, section.Options,
                    StagePart.Of(progress, target == PredictionTarget.DecayRate ? 0 : 1, section.Targets.Count,
                        section.Targets.Count == 1 ? "" : $"{MapQuantity.Of(target).Symbol}: "));
                trained.Save(folder);
            }, link);
            using RateModel model = RateModel.Load(path);
            return new Output(path, isNew, model.Card) { Before = before?.ModelId == model.Card.ModelId ? null : before };
        }

        // one of an older version, or one that rotted, has nothing to be held against
        ModelCard? CardOf(string? id)
        {
            try
            {
                return id is null ? null : RateModel.CardOf(Path.Combine(atlas.Models, id));
            }
            catch (PredictionException)
            {
                return null;
            }
        }
    }

    /// <summary>One row a site and campaign that has a k above 0 (or an S), with its covariates.</summary>
    internal static TrainingSet TrainingSetOf(ReleaseReader release, TrainSection section, IReadOnlyList<CatalogueEntry> catalogue,
        PredictionTarget target = PredictionTarget.DecayRate)
    {
        CovariateInfo[] infos = ModelCovariates.Of(section.Covariates, catalogue);
        Dictionary<string, ReleasedSite> sites = release.Rows(AtlasTables.Sites)
            .Where(s => s.Use == AtlasCode.Of(Use.Accepted) && s.LatitudeDegrees is not null && s.LongitudeDegrees is not null)
            .ToDictionary(s => s.SiteKey, StringComparer.Ordinal);
        ReleasedCovariates covariates = new(release);
        Measured[] usable =
        [
            .. section.Evidence.Choose(release.Rows(AtlasTables.SiteCampaigns).Where(c => c.IsUntreated && sites.ContainsKey(c.SiteKey)
                && Measured.Of(c, target) is not null))
                .Select(c => Measured.Of(c, target)).OfType<Measured>(),
        ];
        Dictionary<(string, string, string?), ReleasedNotedSiteCampaign> noted = release.Rows(AtlasTables.NotedSiteCampaigns)
            .ToDictionary(n => (n.SiteKey, n.Campaign, n.Treatment));
        Measured?[] left = [.. usable.Select(m => m.IsWeighed && noted.TryGetValue(KeyOf(m.At), out ReleasedNotedSiteCampaign? without)
            ? Measured.Of(m.At, without, target) : m)];
        TrainingErrors errors = new(release, target == PredictionTarget.DecayRate,
            usable.Where(m => m.IsWeighed).Select(m => (m.Sd, m.Count)));

        List<TrainingRow> rows = new();
        List<TrainingRow?> rowsWithoutNoted = new();
        int leftOut = 0;
        int[] missing = new int[infos.Length];
        foreach ((Measured m, Measured? withoutNoted) in usable.Zip(left))
        {
            (ReleasedSiteCampaign at, ReleasedSite site) = (m.At, sites[m.At.SiteKey]);
            string?[] classes = [.. infos.Select(c => !c.IsClass ? null : c.IsStated ? StatedWord.Find(c.Name)!.Of(site)
                : covariates.ClassOf(at.SiteKey, c.Name))];
            double?[] values = [.. infos.Select((c, i) => !c.IsClass ? covariates.Of(at.SiteKey, at.Campaign, at.Treatment, c.Name)
                : string.IsNullOrWhiteSpace(classes[i]) ? null : CovariateClasses.Unseen)];
            if (values.Any(v => v is null))
            {
                leftOut++;
                for (int c = 0; c < infos.Length; c++)
                    missing[c] += values[c] is null ? 1 : 0;
                continue;
            }

            rows.Add(new TrainingRow(
                at.SiteKey, at.Campaign, site.LatitudeDegrees!.Value, site.LongitudeDegrees!.Value, m.Mean, 1,
                at.FirstBuriedOn!.Value, at.LastRetrievedOn ?? at.FirstBuriedOn.Value, [.. values.Select(v => v!.Value)], site.Ecosystem)
            {
                Errors = ErrorsOf(m),
                Classes = classes,
            });
            rowsWithoutNoted.Add(withoutNoted is { } w ? rows[^1] with { Target = w.Mean, Errors = ErrorsOf(w) } : null);

            RowErrors ErrorsOf(Measured of) => errors.Of(at, of.IsWeighed ? null : of.Sd, of.Count, infos.Select(c => c.Name));
        }

        ReleasedSiteCampaign[] ofPlaces = target != PredictionTarget.DecayRate ? []
            : [.. release.Rows(AtlasTables.SiteCampaigns).Where(c => c.IsUntreated && sites.ContainsKey(c.SiteKey))];
        return ResidualWeights.On(ClassRows.Numbered(new TrainingSet(infos, rows, release.ReleaseId, leftOut, target)
        {
            NotPositiveBurials = ofPlaces.Sum(c => c.RateNotPositiveBurials),
            BurialsAtPlateau = ofPlaces.Sum(c => c.RateAtLeastBurials),
            WithoutNoted = rows.Zip(rowsWithoutNoted).Any(x => x.First.Target != x.Second?.Target) ? rowsWithoutNoted : null,
            Missing = [.. infos.Select((c, i) => new MissingCovariate(c.Name, missing[i])).Where(m => m.Rows > 0)],
        }, section.Options.BlockDegrees));
    }

    private static (string, string, string?) KeyOf(ReleasedSiteCampaign at) => (at.SiteKey, at.Campaign, at.Treatment);

    /// <summary>The mean of a target at a site in a campaign, its standard deviation between burials, and how many these are.</summary>
    private sealed record Measured(ReleasedSiteCampaign At, double Mean, double? Sd, int Count)
    {
        public bool IsWeighed => At.Evidence == AtlasCode.Of(EvidenceKind.Weighed);

        public static Measured? Of(ReleasedSiteCampaign at, PredictionTarget target) => target == PredictionTarget.DecayRate
            ? at.LnRateMean is { } lnRate ? new Measured(at, lnRate, at.LnRateSd, at.LnRateBurials) : null
            : at.StabilisationMean is { } s ? new Measured(at, s, at.StabilisationSd, at.StabilisationBurials) : null;

        /// <summary>The same without noted burials; missing where nothing is left.</summary>
        public static Measured? Of(ReleasedSiteCampaign at, ReleasedNotedSiteCampaign without, PredictionTarget target) =>
            target == PredictionTarget.DecayRate
            ? without.LnRateMean is { } lnRate ? new Measured(at, lnRate, without.LnRateSd, without.LnRateBurials) : null
            : without.StabilisationMean is { } s ? new Measured(at, s, without.StabilisationSd, without.StabilisationBurials) : null;
    }
}
