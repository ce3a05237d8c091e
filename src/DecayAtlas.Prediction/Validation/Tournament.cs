using System.Runtime.ExceptionServices;

namespace DecayAtlas.Prediction.Validation;

/// <summary>How far the data support a model.</summary>
public enum Support
{
    /// <summary>Nothing beats the training mean beyond noise; the mean is given.</summary>
    None,

    /// <summary>The published response beats the mean beyond noise, and no learned model beats the response; the response is
    /// given.</summary>
    Baseline,

    /// <summary>A learned model beats both beyond noise, and is given.</summary>
    Learned,
}

/// <summary>One candidate with its held-out predictions of the blocked folds, and what it learnt from all rows.</summary>
internal sealed record Entrant(Candidate Candidate, Setting Setting, HeldOutPredictions Blocked, CandidateScore Score,
    RatePredictor Predictor, SavedPredictor Saved);

/// <summary>
/// All candidates scored on the same folds, and the simplest that nothing beats beyond noise: a learned model has to beat the
/// published response and the mean, the response has to beat the mean. One that draws on where a place lies has to beat the best of those
/// that know covariates alone beyond noise too.
/// </summary>
internal sealed record Tournament(
    IReadOnlyList<Entrant> Entrants, Entrant Chosen, Entrant BestLearned, IReadOnlyList<Comparison> Comparisons, Support Support,
    IReadOnlyList<LeftOutCandidate> LeftOut,
    IReadOnlyList<string> Notes)
{
    public static Tournament Hold(
        PredictionTarget target, CandidateSet candidates, CovariateTable table, ValidationFolds folds, TrainingOptions options,
        Action<string> report, Action<string, double>? within = null)
    {
        List<string> notes = [.. candidates.Absent];
        List<LeftOutCandidate> leftOut = [];
        Entrant mean = Enter(candidates.Mean) ?? throw new PredictionException(
            $"Not even the training mean can be taken ({leftOut[0].Reason.TrimEnd('.')}); check the training set for extreme values.");
        Entrant? baseline = candidates.Baseline is { } published ? Enter(published) : null;
        if (baseline is null)
        {
            notes.Add(candidates.Baseline is not null
                ? "The published response is left out, so the training mean is the only baseline."
                : target == PredictionTarget.DecayRate
                ? "No temperature is named for the published response, so the training mean is the only baseline."
                : "There is no published response for this target, so the training mean is the only baseline.");
        }
        List<Entrant> learned = [.. candidates.Learned.Select(Enter).OfType<Entrant>()];
        if (learned.Count == 0)
        {
            string quantity = target == PredictionTarget.DecayRate ? "k" : "S",
                reasons = string.Join(' ', leftOut.Select(l => $"{l.Title}: {l.Reason}"));
            throw new PredictionException(
                $"No candidate model of {quantity} could be trained, so there is none to give; check the covariates for extreme "
                + $"values. {reasons}");
        }

        int[] blocks = CrossValidationFolds.BlockOfRow(table.Rows, options.BlockDegrees);
        Comparison Compare(Entrant better, Entrant than) =>
            Comparison.Of(better.Candidate.Name, better.Blocked.Values, than.Candidate.Name, than.Blocked.Values, table, blocks);
        Entrant? plain = learned.Where(e => !e.Candidate.KnowsPlaces).MinBy(e => e.Score.Blocked.Pooled.Rmse);
        Entrant? placed = learned.Where(e => e.Candidate.KnowsPlaces).MinBy(e => e.Score.Blocked.Pooled.Rmse);
        Comparison? placedOverPlain = placed is null || plain is null ? null : Compare(placed, plain);
        Entrant best = placedOverPlain is { IsBeyondNoise: true } ? placed! : plain ?? placed!;
        Comparison bestOverMean = Compare(best, mean);
        Comparison? baselineOverMean = baseline is null ? null : Compare(baseline, mean);
        Comparison? bestOverBaseline = baseline is null ? null : Compare(best, baseline);
        (Entrant? chosen, Support support) =
            bestOverMean.IsBeyondNoise && (bestOverBaseline?.IsBeyondNoise ?? true) ? (best, Support.Learned)
            : baselineOverMean is { IsBeyondNoise: true } ? (baseline!, Support.Baseline)
            : (mean, Support.None);
        return new(
            [mean, .. baseline is null ? [] : new[] { baseline }, .. learned], chosen, best,
            [.. new[] { bestOverMean, baselineOverMean, bestOverBaseline, placedOverPlain }.OfType<Comparison>()], support, leftOut, notes);

        // The one wall round a candidate: what goes wrong in its search, its folds or its final fit costs that candidate, and no other.
        // Memory and storage are nobody's fault: a full disk must fail the training, and not quietly change which model is chosen.
        Entrant? Enter(Candidate candidate)
        {
            report(candidate.Title);
            try
            {
                return Score(candidate);
            }
            catch (Exception e)
            {
                if (MachineFault.In(e) is { } fault)
                    ExceptionDispatchInfo.Throw(fault);
                leftOut.Add(LeftOutCandidate.Of(candidate, e));
                return null;
            }
        }

        Entrant Score(Candidate candidate)
        {
            int settings = candidate.Settings(options).Count, done = 0;
            double all = ((settings > 1 ? settings : 0) + 1) * folds.Blocked.Count + folds.Random.Count + (folds.Campaign?.Count ?? 0)
                + (folds.Ecosystem?.Count ?? 0);
            void Folded() => within?.Invoke(candidate.Title, Interlocked.Increment(ref done) / all);
            (Setting setting, IReadOnlyDictionary<Setting, HeldOutPredictions> tried) =
                CrossValidation.Choose(candidate, table, folds.Blocked, options, Folded);
            HeldOutPredictions blocked = CrossValidation.RunNested(candidate, table, folds.Blocked, options, tried, Folded);
            ValidationScore By(CrossValidationFolds by) =>
                Finite(CrossValidation.Run(candidate, setting, table, by, options, Folded).Score(table, by));
            CandidateScore score = new(
                candidate.Name, candidate.Title, setting.ToString(), Finite(blocked.Score(table, folds.Blocked)), By(folds.Random),
                folds.Campaign is { } c ? By(c) : null, folds.Ecosystem is { } e ? By(e) : null)
            {
                MoranI = table.Rows.DistinctBy(r => r.SiteKey).Count() > KrigingCandidate.MostSites ? null
                    : SpatialPattern.OfSites(table, [.. blocked.Values.Select((p, r) => p - table.Targets[r])])?.I,
            };
            FittedModel fitted = candidate.Fit(table, setting, options);
            return new(candidate, setting, blocked, score, fitted.Predictor, fitted.Save());
        }

        static ValidationScore Finite(ValidationScore score) => double.IsFinite(score.Pooled.Rmse)
            && double.IsFinite(score.Pooled.Concordance)
            ? score : throw new PredictionException("Its error on what was held out is no finite number.");
    }
}

/// <summary>The four ways of holding out.</summary>
internal sealed record ValidationFolds(CrossValidationFolds Blocked, CrossValidationFolds Random, CrossValidationFolds? Campaign,
    CrossValidationFolds? Ecosystem)
{
    public static ValidationFolds Of(CovariateTable table, TrainingOptions options) => new(
        CrossValidationFolds.Blocked(table.Rows, options.Folds, options.BlockDegrees),
        CrossValidationFolds.Random(table.Rows, options.Folds, options.Seed),
        CrossValidationFolds.OneOut(table.Rows, r => r.Campaign, options.MinimumRows / 2),
        table.Rows.Any(r => r.Ecosystem is not null) ? CrossValidationFolds.OneOut(table.Rows, r => r.Ecosystem, options.MinimumRows / 2)
        : null);
}
