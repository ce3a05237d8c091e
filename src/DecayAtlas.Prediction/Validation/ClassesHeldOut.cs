namespace DecayAtlas.Prediction.Validation;

/// <summary>Tells of classes whose rows all lie in what one fold holds out, so that they are predicted by a model that never saw
/// them.</summary>
internal static class ClassesHeldOut
{
    public static IEnumerable<string> NotesOn(IReadOnlyList<CovariateInfo> covariates, CovariateTable table, CrossValidationFolds folds)
    {
        for (int c = 0; c < covariates.Count; c++)
        {
            for (int k = 0; k < (covariates[c].Classes?.Names.Count ?? 0); k++)
            {
                for (int fold = 0; fold < folds.Count; fold++)
                {
                    int heldOut = folds.HeldOut(fold).Count(r => table.Rows[r].Covariates[c] == k);
                    if (heldOut == 0 || folds.Training(fold).Any(r => table.Rows[r].Covariates[c] == k))
                        continue;
                    yield return $"All rows of the class {covariates[c].Classes!.Names[k]} of {covariates[c].Name} are held out together, "
                        + $"by fold {fold + 1} of {folds.Count}: {Counted.Of(heldOut, "row")} scored by a model that never saw the "
                        + "class and takes it for a middling one, so that scores and intervals are those of a model that knows less.";
                }
            }
        }
    }
}
