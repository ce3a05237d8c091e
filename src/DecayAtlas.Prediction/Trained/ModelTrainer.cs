namespace DecayAtlas.Prediction.Trained;

/// <summary>
/// Chooses and trains a model: every candidate is scored on held-out spatial blocks, the simplest that nothing beats beyond
/// noise is trained again on all rows, and what is left unexplained says how far it may be trusted.
/// </summary>
public static class ModelTrainer
{
    /// <summary>The id of the model that <see cref="Train"/> would make: it tells whether that model is there already.</summary>
    public static string IdOf(TrainingSet set, TrainingOptions options) => CardMaker.IdOf(set, CovariateTable.Of(set), options);

    /// <summary>Trains a model. The same set and options give the same model, bit for bit, in any row order.</summary>
    /// <param name="options">All enter the model id.</param>
    /// <param name="progress">Told what is being done, steps done, steps in all.</param>
    /// <exception cref="PredictionException">The rows, blocks or covariates do not allow training, no candidate could be trained, or a
    /// setting makes no sense.</exception>
    public static RateModel Train(TrainingSet set, TrainingOptions options, Action<string, int, int>? progress = null)
    {
        options.Check();
        TrainingSetCheck.Run(set, options);
        return TrainOf(set, options, CandidateSet.Of(set, options), progress);
    }

    /// <summary>The same of a checked set, from candidates of one's own.</summary>
    internal static RateModel TrainOf(TrainingSet set, TrainingOptions options, CandidateSet candidates,
        Action<string, int, int>? progress = null)
    {
        string id = IdOf(set, options);
        CovariateTable given = CovariateTable.Of(set);
        set = new LotErrors(given, CrossValidationFolds.BlockOfRow(given.Rows, options.BlockDegrees)).TakenOff(set);
        CovariateTable table = CovariateTable.Of(set);
        ValidationFolds folds = ValidationFolds.Of(table, options);
        foreach (CrossValidationFolds each in new[] { folds.Blocked, folds.Random })
            TrainingSetCheck.RunFolds(set, table, each);

        // each step has hundredths, so that what takes minutes is seen to move
        const int steps = 12, fine = 100;
        int done = 0;
        void Report(string what) => progress?.Invoke(what, fine * Math.Min(done++, steps - 1), fine * steps);
        void Within(string what, double share) =>
            progress?.Invoke(what, fine * Math.Min(done - 1, steps - 1) + (int)(fine * Math.Min(share, 0.99)), fine * steps);

        Tournament tournament = Tournament.Hold(set.Target, candidates, table, folds, options, Report, Within);
        Entrant chosen = tournament.Chosen;

        Report("Importance, effects and learning curve");
        IReadOnlyList<CovariateImportance> importance =
            PermutationImportance.Of(set.Covariates, table, folds.Blocked, chosen.Blocked, options);
        CovariateEffect[] effects = [.. set.Covariates.Select((c, i) => c.IsClass
            ? ClassEffects.Of(c, i, table, chosen.Predictor) : AccumulatedLocalEffects.Of(c.Name, i, table, chosen.Predictor))];
        IReadOnlyList<LearningPoint> curve = LearningCurve.Of(chosen.Candidate, chosen.Setting, table, folds.Blocked, options);

        Report("Members");
        (MemberSet members, double[] ofHeldOut) = MemberTraining.Of(table, chosen.Candidate, chosen.Setting, options,
            share => Within("Members", share));
        MemberVariances[] spread = new MemberVariances[table.Count];
        members.Variances(table.Features, spread, table.Places);

        Report("Limits");
        string?[] kinds = [.. table.Rows.Select(r => r.Ecosystem)];
        double[] residuals = [.. chosen.Blocked.Values.Select((p, r) => p - table.Targets[r])];
        (Applicability applicability, double[] index) =
            Applicability.Of(table, folds.Blocked.FoldOfRow, [.. importance.Select(i => i.RmseIncrease)]);
        PredictionInterval interval = PredictionInterval.Of(options.IntervalLevel, residuals, index, kinds);
        ErrorParts parts = ErrorParts.Of(table, ofHeldOut);
        ErrorCorrelation errors = ErrorCorrelation.OfPlaces(
            table, residuals, members.OfSites(table.Features, table.Count), parts.OfModel);
        (NotedInfluence Found, FittedModel? Without)? noted = NotedInfluence.Of(set, table, chosen, folds.Blocked, options);
        bool[] inside = CoverageCheck.Inside(options.IntervalLevel, residuals, index, folds.Blocked, kinds);
        progress?.Invoke("Model trained", fine * steps, fine * steps);

        ModelCard card = CardMaker.Make(id, set, table, options, folds, tournament, new(
            importance, effects, curve, SpatialPattern.OfSites(table, residuals), ApplicabilitySummary.Of(applicability, index),
            CoverageCheck.ByDissimilarity(residuals, index, inside), interval,
            CoverageCheck.ByGroup(table, residuals, index, inside, applicability))
        {
            WithoutNoted = noted?.Found,
            Parts = parts,
            Members = new(members.Count, members.Blocks, spread.Average(s => s.OfShared)),
        });
        return new RateModel(card, chosen.Predictor, chosen.Saved, new ModelLimits(applicability.State, interval, errors, parts), members,
            HeldOutTable.Of(table, folds.Blocked, chosen.Blocked.Values, index, inside))
        {
            WithoutNoted = noted?.Without is { } without ? (without.Save().AsWithoutNoted(), without.Predictor) : null,
        };
    }
}
