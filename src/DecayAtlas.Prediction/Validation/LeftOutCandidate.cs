namespace DecayAtlas.Prediction;

/// <summary>A candidate that could not be trained on these rows, and so was not compared.</summary>
/// <param name="Name">Stable name.</param>
/// <param name="Title">Name for people.</param>
/// <param name="Reason">Why, in one sentence.</param>
public sealed record LeftOutCandidate(string Name, string Title, string Reason)
{
    private const int LongestQuote = 300;

    internal static LeftOutCandidate Of(Candidate candidate, Exception failure) => new(candidate.Name, candidate.Title, ReasonOf(failure));

    /// <summary>Our own sentences as they are; what a library says is quoted, on one line.</summary>
    private static string ReasonOf(Exception failure)
    {
        if (failure is PredictionException)
            return failure.Message;
        string words = string.Join(' ', failure.GetBaseException().Message.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        return $"Its training broke off and said \"{(words.Length > LongestQuote ? words[..LongestQuote] + " ..." : words)}\".";
    }
}
