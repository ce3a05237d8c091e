namespace DecayAtlas.Prediction.Trained;

/// <summary>Says in one sentence why a training set cannot be trained on, before any work is done.</summary>
internal static class TrainingSetCheck
{
    public static void Run(TrainingSet set, TrainingOptions options)
    {
        string? fault = FaultOf(set, options) ?? set.Rows.Select(r => FaultOf(r, set)).FirstOrDefault(f => f is not null)
            ?? ConstantIn(set);
        if (fault is not null)
            throw new PredictionException(fault);
    }

    /// <summary>A covariate may vary over all rows and yet be constant in what one fold trains on.</summary>
    public static void RunFolds(TrainingSet set, CovariateTable table, CrossValidationFolds folds)
    {
        for (int fold = 0; fold < folds.Count; fold++)
        {
            IReadOnlyList<int> rows = folds.Training(fold);
            for (int c = 0; c < set.Covariates.Count; c++)
            {
                // of a class that only one is left is told in the card: the rows of the others are held out as of classes never seen
                int column = table.Coding.ColumnsOf(c).First;
                if (!set.Covariates[c].IsClass && rows.All(r => table.FeaturesOf(r)[column] == table.FeaturesOf(rows[0])[column]))
                {
                    throw new PredictionException($"Covariate '{set.Covariates[c].Name}' does not vary outside the blocks held out in fold "
                        + $"{fold + 1} of {folds.Count}; leave it out, use fewer folds or smaller blocks.");
                }
            }
        }
    }

    private static string? FaultOf(TrainingSet set, TrainingOptions options)
    {
        if (set.Covariates.Count == 0)
            return "The training set has no covariate; name at least one grid of the catalogue in the configuration.";
        if (set.Covariates.GroupBy(c => c.Name, StringComparer.Ordinal).FirstOrDefault(g => g.Count() > 1) is { } twice)
            return $"Covariate '{twice.Key}' appears {twice.Count()} times in the training set; name each once.";
        string gives = $"Release {set.ReleaseId} gives ", rows = $"{set.Rows.Count} rows to train on";
        if (set.Rows.Count == 0)
        {
            return $"{gives}no accepted site with all covariates ({set.RowsLeftOut} left out for a missing covariate), so there is nothing "
                + "to train on; accept more sites or use grids that cover them.";
        }

        if (set.Rows.Count < options.MinimumRows)
        {
            return $"{gives}{rows} ({set.RowsLeftOut} left out for a missing covariate), expected at least {options.MinimumRows}; accept "
                + "more sites or use grids that cover them.";
        }

        return PredictionInterval.RankOf(set.Rows.Count, options.IntervalLevel) <= set.Rows.Count ? null
            : $"{gives}{rows}, too few for an interval of level " + Invariant($"{options.IntervalLevel}")
            + "; accept more sites or choose a lower interval_level.";
    }

    private static string? FaultOf(TrainingRow row, TrainingSet set)
    {
        string where = $"Training row of site '{row.SiteKey}', campaign '{row.Campaign}'";
        if (row.Covariates.Count != set.Covariates.Count)
            return $"{where} has {row.Covariates.Count} covariate values, expected {set.Covariates.Count}; rebuild the training set.";
        for (int c = 0; c < row.Covariates.Count; c++)
        {
            if (set.Covariates[c].IsClass && !(row.Covariates[c] >= 0 && row.Covariates[c] < set.Covariates[c].Classes?.Names.Count))
                return $"{where} has no numbered class for covariate '{set.Covariates[c].Name}'; number the classes of the training set.";
            if (!float.IsFinite((float)row.Covariates[c]))
            {
                return Invariant($"{where} has {row.Covariates[c]} for covariate '{set.Covariates[c].Name}', expected a finite number; ")
                    + "leave rows with a missing covariate out.";
            }
        }

        if (!double.IsFinite(row.Target))
        {
            return Invariant($"{where} has {(IsRate(set) ? "ln k" : "S")} = {row.Target}, expected a finite number; ")
                + "leave rows without one out.";
        }

        if (!(row.Weight > 0) || !float.IsFinite((float)row.Weight))
            return Invariant($"{where} has weight {row.Weight}, expected a finite number above 0; leave rows of no weight out.");
        return row.LatitudeDegrees is >= -90 and <= 90 && row.LongitudeDegrees is >= -180 and <= 180 ? null
            : Invariant($"{where} lies at latitude {row.LatitudeDegrees}, longitude {row.LongitudeDegrees}, expected -90 to 90 and ")
            + "-180 to 180; correct the site.";
    }

    private static string? ConstantIn(TrainingSet set)
    {
        for (int c = 0; c < set.Covariates.Count; c++)
        {
            // The models see single precision, so a covariate that only varies below it is constant to them.
            float first = (float)set.Rows[0].Covariates[c];
            if (set.Rows.All(r => (float)r.Covariates[c] == first))
            {
                if (set.Covariates[c].Classes is { } classes)
                {
                    return $"Covariate '{set.Covariates[c].Name}' is the class {classes.Names[(int)first]} at every training site and "
                        + "so can explain nothing; leave it out of the configuration.";
                }

                return Invariant($"Covariate '{set.Covariates[c].Name}' is {first} at every training site and so can explain nothing; ")
                    + "leave it out of the configuration.";
            }
        }

        return set.Rows.Any(r => r.Target != set.Rows[0].Target) ? null
            : $"Every training row has the same {(IsRate(set) ? "decay rate (ln k" : "stabilisation (S")} = "
            + Invariant($"{set.Rows[0].Target}), so there is nothing to learn; check the release.");
    }

    private static bool IsRate(TrainingSet set) => set.Target == PredictionTarget.DecayRate;
}
