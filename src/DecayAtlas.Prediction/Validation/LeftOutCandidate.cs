namespace DecayAtlas.Prediction.Validation;

/// <summary>A candidate that could not be trained on these rows, and so was not compared.</summary>
/// <param name="Reason">One sentence.</param>
public sealed record LeftOutCandidate(string Name, string Title, string Reason)
{
    internal static LeftOutCandidate Of(Candidate candidate, Exception failure) => new(candidate.Name, candidate.Title, ReasonOf(failure));

    /// <summary>
    /// Our own sentences as they are. A card is public, so that of anything else only the kind is told, and never what a library says.
    /// </summary>
    internal static string ReasonOf(Exception failure) => failure switch
    {
        PredictionException => failure.Message,
        AggregateException { InnerExceptions: [var only] } => ReasonOf(only),
        _ => $"Its training broke off ({failure.GetBaseException().GetType().Name}).",
    };
}
