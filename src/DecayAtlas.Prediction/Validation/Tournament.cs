namespace DecayAtlas.Prediction;

/// <summary>How far the data support a model.</summary>
public enum Support
{
    /// <summary>Nothing beats the training mean beyond noise; the mean is given.</summary>
    None,

    /// <summary>The published response beats the mean beyond noise, and no learned model beats the response; the response is given.</summary>
    Baseline,

    /// <summary>A learned model beats both beyond noise, and is given.</summary>
    Learned,
}

/// <summary>One candidate with its held-out predictions of the blocked folds.</summary>
internal sealed record Entrant(Candidate Candidate, Setting Setting, HeldOutPredictions Blocked, CandidateScore Score);

/// <summary>
/// All candidates scored on the same folds, and the simplest that nothing beats beyond noise: a learned model has to beat the
/// published response and the mean, the response has to beat the mean.
/// </summary>
internal sealed record Tournament(
    IReadOnlyList<Entrant> Entrants, Entrant Chosen, Entrant BestLearned, IReadOnlyList<Comparison> Comparisons, Support Support, IReadOnlyList<string> Notes)
{
    public static Tournament Hold(TrainingSet set, CovariateTable table, ValidationFolds folds, TrainingOptions options, Action<string> report)
    {
        var candidates = CandidateSet.Of(set, options);
        List<string> notes = [.. candidates.Absent];
        var mean = Enter(candidates.Mean);
        Entrant? baseline = null;
        if (candidates.Baseline is { } published)
        {
            try
            {
                baseline = Enter(published);
            }
            catch (PredictionException e)
            {
                notes.Add(e.Message + " The training mean is the only baseline.");
            }
        }
        else
        {
            notes.Add(set.Target == PredictionTarget.DecayRate
                ? "No temperature is named for the published response, so the training mean is the only baseline."
                : "There is no published response for this target, so the training mean is the only baseline.");
        }
        List<Entrant> learned = [.. candidates.Learned.Select(Enter).Where(e => double.IsFinite(e.Score.Blocked.Pooled.Rmse))];
        if (learned.Count == 0)
            throw new PredictionException("No candidate model gave a finite error on held-out blocks; check the training set for extreme values.");

        var best = learned.MinBy(e => e.Score.Blocked.Pooled.Rmse)!;
        int[] blocks = CrossValidationFolds.BlockOfRow(table.Rows, options.BlockDegrees);
        Comparison Compare(Entrant better, Entrant than) =>
            Comparison.Of(better.Candidate.Name, better.Blocked.Values, than.Candidate.Name, than.Blocked.Values, table, blocks);
        var bestOverMean = Compare(best, mean);
        var baselineOverMean = baseline is null ? null : Compare(baseline, mean);
        var bestOverBaseline = baseline is null ? null : Compare(best, baseline);
        var (chosen, support) =
            bestOverMean.IsBeyondNoise && (bestOverBaseline?.IsBeyondNoise ?? true) ? (best, Support.Learned)
            : baselineOverMean is { IsBeyondNoise: true } ? (baseline!, Support.Baseline)
            : (mean, Support.None);
        return new(
            [mean, .. baseline is null ? [] : new[] { baseline }, .. learned], chosen, best,
            [.. new[] { bestOverMean, baselineOverMean, bestOverBaseline }.OfType<Comparison>()], support, notes);

        Entrant Enter(Candidate candidate)
        {
            report(candidate.Title);
            var setting = CrossValidation.Choose(candidate, table, folds.Blocked, options);
            var blocked = CrossValidation.RunNested(candidate, table, folds.Blocked, options);
            ValidationScore Score(CrossValidationFolds by) => CrossValidation.Run(candidate, setting, table, by, options).Score(table, by);
            return new(candidate, setting, blocked, new(
                candidate.Name, candidate.Title, setting.ToString(), blocked.Score(table, folds.Blocked), Score(folds.Random),
                folds.Campaign is { } c ? Score(c) : null, folds.Ecosystem is { } e ? Score(e) : null));
        }
    }
}

/// <summary>The four ways of holding out.</summary>
internal sealed record ValidationFolds(CrossValidationFolds Blocked, CrossValidationFolds Random, CrossValidationFolds? Campaign, CrossValidationFolds? Ecosystem)
{
    public static ValidationFolds Of(CovariateTable table, TrainingOptions options) => new(
        CrossValidationFolds.Blocked(table.Rows, options.Folds, options.BlockDegrees),
        CrossValidationFolds.Random(table.Rows, options.Folds, options.Seed),
        CrossValidationFolds.OneOut(table.Rows, r => r.Campaign, options.MinimumRows / 2),
        table.Rows.Any(r => r.Ecosystem is not null) ? CrossValidationFolds.OneOut(table.Rows, r => r.Ecosystem, options.MinimumRows / 2) : null);
}
