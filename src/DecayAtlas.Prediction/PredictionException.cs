namespace DecayAtlas.Prediction;

/// <summary>Training, loading or mapping cannot go on for a reason the user can mend; the message is one clear sentence.</summary>
public sealed class PredictionException(string message, Exception? inner = null) : Exception(message, inner)
{
    /// <summary>Whether what was asked for makes no sense (a region, a reference system, a season that lacks), and not what it was asked
    /// of.</summary>
    public bool IsOfRequest { get; private init; }

    internal static PredictionException OfRequest(string message, Exception? inner = null) => new(message, inner) { IsOfRequest = true };
}
