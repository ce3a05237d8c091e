using System.Diagnostics;

namespace DecayAtlas.Contributions;

/// <summary>
/// An exception that nobody foresaw: a mistake of this program and not of a sender. Told by its kind and place alone, since its
/// message may quote what was received.
/// </summary>
/// <param name="Place">The type of ours that it came through first.</param>
public sealed record OurMistake(string Kind, string Place)
{
    private const string OurNames = "DecayAtlas.";

    /// <summary>
    /// Whether one thing's failure must not stop the others. Not where the machine is at its end, nor where storage failed: the next thing
    /// would fail too.
    /// </summary>
    public static bool Is(Exception thrown)
    {
        Exception fault = CauseOf(thrown);
        return fault is not (OutOfMemoryException or ContributionException)
            && !IsStorage(fault) && !(fault.InnerException is { } inner && IsStorage(inner));
    }

    public static OurMistake Of(Exception thrown)
    {
        Exception fault = CauseOf(thrown);
        Type? place = new StackTrace(fault).GetFrames().Select(frame => frame.GetMethod()?.DeclaringType)
            .FirstOrDefault(type => type?.Namespace?.StartsWith(OurNames, StringComparison.Ordinal) == true);
        while (place is { IsNested: true } && place.Name.StartsWith('<'))   // what the compiler makes of a function within a function
            place = place.DeclaringType;
        return new OurMistake(fault.GetType().Name, place is null ? "an unknown place" : place.Name.Split('`')[0]);
    }

    public override string ToString() => $"{Kind} in {Place}";

    private static bool IsStorage(Exception fault) => StorageFault.Is(fault);

    // work on several threads wraps what one of them threw
    private static Exception CauseOf(Exception thrown) =>
        thrown is AggregateException { InnerExceptions.Count: > 0 } many ? many.Flatten().InnerExceptions[0] : thrown;
}
