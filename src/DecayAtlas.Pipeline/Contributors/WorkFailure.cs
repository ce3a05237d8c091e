namespace DecayAtlas.Pipeline.Contributors;

/// <summary>What failed in the work on one contributor, so that it stops nobody else; said without anything that was received.</summary>
/// <param name="Why">A clause: what happened.</param>
/// <param name="IsMistake">Whether the program made a mistake; else what it works on is not what it was.</param>
internal sealed record WorkFailure(string Why, bool IsMistake)
{
    /// <summary>Does the work; <see langword="null"/> where it failed for reasons of its own.</summary>
    /// <remarks>What many share (the machine, the disk, a grid, the configuration) goes through: the next contributor would fail
    /// too.</remarks>
    public static T? Catch<T>(Func<T> work, out WorkFailure? failure) where T : class
    {
        failure = null;
        try
        {
            return work();
        }
        catch (NoLongerReadException fault)
        {
            failure = new WorkFailure(fault.Message, IsMistake: false);
        }
        catch (Exception fault) when (OurMistake.Is(fault) && fault is not (StorageException or GridException or ConfigurationException))
        {
            failure = new WorkFailure($"the program made a mistake, {OurMistake.Of(fault)}", IsMistake: true);
        }

        return null;
    }
}
