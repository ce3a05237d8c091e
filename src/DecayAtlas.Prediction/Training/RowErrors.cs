namespace DecayAtlas.Prediction.Training;

/// <summary>What one standard uncertainty of a quantity of a lot or of a batch does to the target of a row.</summary>
/// <param name="Quantity">With its lot or batch: rows that name the same one err together.</param>
/// <param name="OnTarget">Signed, on the scale of the target.</param>
/// <param name="IsOfBatch">Else of a lot.</param>
/// <param name="IsRange">Only a range is known, and the error is rectangular.</param>
public sealed record SharedError(string Quantity, double OnTarget, bool IsOfBatch, bool IsRange = false)
{
    /// <summary>What the quantity is, whichever lot or batch it is of.</summary>
    internal string Kind => KindOf(Quantity);

    /// <summary>Whether what rows tell of it is off the target already.</summary>
    internal bool IsTakenOff { get; init; }

    internal static string KindOf(string quantity) => quantity[(quantity.LastIndexOf('/') + 1)..];
}

/// <summary>What is known of how the target and the covariates of a row may be off.</summary>
/// <param name="OwnVariance">Of the mean of its burials, from their scatter and their weighings: shared with no other row.</param>
/// <param name="Shared">With rows of the same lots and batches.</param>
/// <param name="CovariateSds">In the order of the covariates, in their units; 0 where nothing is known. Empty for none at all.</param>
public sealed record RowErrors(double OwnVariance, IReadOnlyList<SharedError> Shared, IReadOnlyList<double> CovariateSds)
{
    public static RowErrors None { get; } = new(0, [], []);

    public double BatchVariance => Shared.Where(s => s.IsOfBatch).Sum(s => s.OnTarget * s.OnTarget);

    public double LotVariance => Shared.Where(s => !s.IsOfBatch).Sum(s => s.OnTarget * s.OnTarget);
}
