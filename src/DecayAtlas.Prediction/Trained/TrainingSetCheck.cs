using System.Globalization;

namespace DecayAtlas.Prediction.Trained;

/// <summary>Says in one sentence why a training set cannot be trained on, before any work is done.</summary>
internal static class TrainingSetCheck
{
    public static void Run(TrainingSet set, TrainingOptions options)
    {
        if (set.Covariates.Count == 0)
        {
            throw new PredictionException(
                "The training set has no covariate; name at least one grid of the catalogue in the configuration.");
        }

        IGrouping<string, CovariateInfo>? twice = set.Covariates.GroupBy(c => c.Name, StringComparer.Ordinal)
            .FirstOrDefault(g => g.Count() > 1);
        if (twice is not null)
            throw new PredictionException($"Covariate '{twice.Key}' appears {twice.Count()} times in the training set; name each once.");
        if (set.Rows.Count == 0)
        {
            throw new PredictionException(
                Invariant($"Release {set.ReleaseId} gives no accepted site with all covariates ({set.RowsLeftOut} left out for a ")
                + Invariant($"missing covariate), so there is nothing to train on; accept more sites or use grids that cover them."));
        }

        if (set.Rows.Count < options.MinimumRows)
        {
            throw new PredictionException(
                Invariant($"Release {set.ReleaseId} gives {set.Rows.Count} rows to train on ({set.RowsLeftOut} left out for a missing ")
                + Invariant($"covariate), expected at least {options.MinimumRows}; accept more sites or use grids that cover them."));
        }

        if (PredictionInterval.RankOf(set.Rows.Count, options.IntervalLevel) > set.Rows.Count)
        {
            throw new PredictionException(Invariant(
                $"Release {set.ReleaseId} gives {set.Rows.Count} rows to train on, too few for an interval of level ")
                + Invariant($"{options.IntervalLevel}; accept more sites or choose a lower interval_level."));
        }

        foreach (TrainingRow row in set.Rows)
            CheckRow(row, set.Covariates, set.Target == PredictionTarget.DecayRate ? "ln k" : "S");
        for (int c = 0; c < set.Covariates.Count; c++)
        {
            // The models see single precision, so a covariate that only varies below it is constant to them.
            float first = (float)set.Rows[0].Covariates[c];
            if (set.Rows.All(r => (float)r.Covariates[c] == first))
            {
                throw new PredictionException(
                    Invariant($"Covariate '{set.Covariates[c].Name}' is {first} at every training site and so can explain nothing; ")
                    + Invariant($"leave it out of the configuration."));
            }
        }
        if (set.Rows.All(r => r.Target == set.Rows[0].Target))
        {
            throw new PredictionException(
                Invariant($"Every training row has the same ")
                + Invariant($"{(set.Target == PredictionTarget.DecayRate ? "decay rate (ln k" : "stabilisation (S")} = ")
                + Invariant($"{set.Rows[0].Target}), so there is nothing to learn; check the release."));
        }
    }

    /// <summary>A covariate may vary over all rows and yet be constant in what one fold trains on.</summary>
    public static void RunFolds(TrainingSet set, CovariateTable table, CrossValidationFolds folds)
    {
        for (int fold = 0; fold < folds.Count; fold++)
        {
            IReadOnlyList<int> rows = folds.Training(fold);
            for (int c = 0; c < set.Covariates.Count; c++)
            {
                if (rows.All(r => table.FeaturesOf(r)[c] == table.FeaturesOf(rows[0])[c]))
                {
                    throw new PredictionException(
                        Invariant($"Covariate '{set.Covariates[c].Name}' does not vary outside the blocks held out in fold {fold + 1} ")
                        + Invariant($"of {folds.Count}; leave it out, use fewer folds or smaller blocks."));
                }
            }
        }
    }

    private static void CheckRow(TrainingRow row, IReadOnlyList<CovariateInfo> covariates, string what)
    {
        string where = $"Training row of site '{row.SiteKey}', campaign '{row.Campaign}'";
        if (row.Covariates.Count != covariates.Count)
        {
            throw new PredictionException(
                Invariant($"{where} has {row.Covariates.Count} covariate values, expected {covariates.Count}; rebuild the training set."));
        }

        for (int c = 0; c < covariates.Count; c++)
        {
            if (!float.IsFinite((float)row.Covariates[c]))
            {
                throw new PredictionException(
                    Invariant($"{where} has {row.Covariates[c]} for covariate '{covariates[c].Name}', expected a finite number; leave ")
                    + Invariant($"rows with a missing covariate out."));
            }
        }

        if (!double.IsFinite(row.Target))
        {
            throw new PredictionException(
                Invariant($"{where} has {what} = {row.Target}, expected a finite number; leave rows without one out."));
        }

        if (!(row.Weight > 0) || !float.IsFinite((float)row.Weight))
        {
            throw new PredictionException(
                Invariant($"{where} has weight {row.Weight}, expected a finite number above 0; leave rows of no weight out."));
        }

        if (!(row.LatitudeDegrees is >= -90 and <= 90) || !(row.LongitudeDegrees is >= -180 and <= 180))
        {
            throw new PredictionException(
                Invariant($"{where} lies at latitude {row.LatitudeDegrees}, longitude {row.LongitudeDegrees}, expected -90 to 90 and ")
                + Invariant($"-180 to 180; correct the site."));
        }
    }

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
