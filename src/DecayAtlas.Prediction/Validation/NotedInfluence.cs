namespace DecayAtlas.Prediction.Validation;

/// <summary>How the given model stands without the noted burials, on the scale of learning (ln k, or S): the same candidate with the same
/// settings, trained again on the same folds.</summary>
/// <param name="Rows">Training rows that rest on noted burials.</param>
/// <param name="RowsLeftOut">Those of them of which nothing is left.</param>
/// <param name="Rmse">Blocked, trained and scored with all.</param>
/// <param name="RmseOfOthers">Trained with all, scored on what is left without noted burials.</param>
/// <param name="RmseWithout">Trained and scored without.</param>
/// <param name="MedianShift">Of |prediction without - prediction with| over the places of all training rows.</param>
/// <param name="Shift95">Its 95th percentile.</param>
/// <param name="Statement">Why it could not be trained without them; then the numbers are missing.</param>
public sealed record NotedInfluence(
    int Rows, int RowsLeftOut, double Rmse, double? RmseOfOthers, double? RmseWithout, double? MedianShift, double? Shift95,
    string? Statement)
{
    /// <summary>For whoever uses the model: what is another without the noted burials.</summary>
    internal string Sentence(PredictionTarget target)
    {
        string rest = $"{Counted.Of(Rows, "training row")} of the model {(Rows == 1 ? "rests" : "rest")} on noted burials";
        return this is not { RmseWithout: { } without, MedianShift: { } median, Shift95: { } most }
            ? $"{rest}. {Statement}"
            : Invariant($"{rest}: without these its error on held-out blocks is {without:0.000} instead of {Rmse:0.000}, and ")
                + (target == PredictionTarget.DecayRate
                ? Invariant($"k moves by a factor of {Math.Exp(median):0.00} (median) and {Math.Exp(most):0.00} (95th percentile) at ")
                    + "the places of training rows."
                : Invariant($"S moves by {median:0.000} (median) and {most:0.000} (95th percentile) at the places of training rows."));
    }

    /// <returns>What is found, and the model without; nothing where no row rests on noted burials.</returns>
    internal static (NotedInfluence Found, FittedModel? Without)? Of(
        TrainingSet set, CovariateTable table, Entrant chosen, CrossValidationFolds folds, TrainingOptions options)
    {
        if (set.WithoutNoted is not { } leftOfRows)
            return null;
        Dictionary<TrainingRow, TrainingRow?> leftOf = new(ReferenceEqualityComparer.Instance);
        foreach ((TrainingRow row, TrainingRow? left) in set.Rows.Zip(leftOfRows))
            leftOf[row] = left;
        int[] was = [.. Enumerable.Range(0, table.Count).Where(r => leftOf[table.Rows[r]] is not null)];
        CovariateTable without = table.Of([.. was.Select(r => leftOf[table.Rows[r]]!)]);
        NotedInfluence found = new(
            table.Count - was.Where((r, i) => table.Targets[r] == without.Targets[i]).Count(), table.Count - was.Length,
            chosen.Score.Blocked.Pooled.Rmse, null, null, null, null, null);
        if (without.Count < options.MinimumRows)
        {
            string statement = $"Without the noted burials {without.Count} rows are left, expected at least {options.MinimumRows}.";
            return (found with { Statement = statement }, null);
        }

        try
        {
            double[] heldOut =
                CrossValidation.Run(chosen.Candidate, chosen.Blocked.SettingOfFold, without, folds.On(without.Rows, was), options).Values;
            FittedModel fitted = chosen.Candidate.Fit(without, chosen.Setting, options);
            double[] shifts =
            [
                .. Enumerable.Range(0, table.Count).Select(r => Math.Abs(
                    fitted.Predictor.Predict(table.FeaturesOf(r), table.Places[r])
                    - chosen.Predictor.Predict(table.FeaturesOf(r), table.Places[r]))).Order(),
            ];
            return (found with
            {
                RmseOfOthers = ErrorMetrics.Of(without.Targets, [.. was.Select(r => chosen.Blocked.Values[r])]).Rmse,
                RmseWithout = ErrorMetrics.Of(without.Targets, heldOut).Rmse,
                MedianShift = Applicability.Quantile(shifts, 0.5),
                Shift95 = Applicability.Quantile(shifts, 0.95),
            }, fitted);
        }
        catch (Exception e) when (MachineFault.In(e) is null)
        {
            return (found with { Statement = $"It can't be trained without the noted burials: {LeftOutCandidate.ReasonOf(e)}" }, null);
        }
    }
}
